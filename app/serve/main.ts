import { parseArgs } from "node:util";
import { buildSite, siteFolder, siteIsStale } from "./build-site.ts";
import { serveSite } from "./site.ts";

/**
 * The browser keeps records by origin, and the port is part of it: on another port the runs of yesterday would
 * seem lost. So the port stays the same, and a taken port is said, not dodged.
 */
const usualPort = 4400;

const usage = "npm start [-- --port N]";

function portWanted(): number | undefined {
  try {
    const { values } = parseArgs({ options: { port: { type: "string", default: String(usualPort) } } });
    const port = Number(values.port);
    return Number.isInteger(port) && port >= 0 && port <= 65535 ? port : undefined;
  } catch {
    return undefined;
  }
}

const port = portWanted();
if (port === undefined) {
  console.error(`usage: ${usage}`);
  process.exit(2);
}

if (siteIsStale(siteFolder)) {
  console.log("Building the app …");
  await buildSite(siteFolder);
}

try {
  const site = await serveSite(siteFolder, { port });
  console.log(`Fourfast is at ${site.url}`);
  console.log("Records stay in the browser that opens it, under this address. Ctrl+C stops the server.");
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => void site.stop());
} catch (error) {
  const { code, message } = error as NodeJS.ErrnoException;
  console.error(
    code === "EADDRINUSE"
      ? `Port ${port} is taken. Another Fourfast may be running: open http://localhost:${port}/, or stop it first.\n` +
          `Another port (${usage}) means another set of records in the browser.`
      : message,
  );
  process.exit(1);
}
