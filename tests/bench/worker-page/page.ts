import type { ForceRequest } from "../../../app/ports.ts";
import { allowOwnScripts } from "../../../app/trusted-scripts.ts";
import { forceWork } from "../../../app/worker/force-work.ts";
import { parseSetup } from "../../../core/exchange/setup.ts";

/** The app's own worker on the file that tests/bench/peers.py reads as well: 27 MB, a million rows, three columns. */
allowOwnScripts(globalThis as unknown as Parameters<typeof allowOwnScripts>[0]);

const rows = 1_000_000;
const rate_Hz = 200_000;

function million(): Blob {
  const parts = ["time_s,a_N,b_N\n"];
  let state = 1;
  const noise = () => {
    // Four uniform numbers are near enough to a normal one for a file's length and look.
    let sum = 0;
    for (let i = 0; i < 4; i++) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      sum += state / 2 ** 32 - 0.5;
    }
    return 0.3 * Math.sqrt(3) * sum;
  };
  for (let i = 0; i < rows; i++) {
    const t = i / rate_Hz;
    const pulse = t > 2 && t < 2.17 ? 190 - 700 * (t - 2) : t >= 2.17 ? 9.8 : 0;
    parts.push(
      `${t.toFixed(6)},${(0.5 * pulse + noise()).toFixed(6)},${(0.5 * pulse + noise()).toFixed(6)}\n`,
    );
  }
  return new Blob(parts);
}

function request(): ForceRequest {
  const parsed = parseSetup(
    {
      water_kg: 1,
      setPressure_Pa: 275_790,
      bottleVolume_m3: 0.002,
      openingDiameter_m: 0.0217,
      channels: ["a_N", "b_N"].map((column) => ({ column, dischargeTime_s: 20 })),
    },
    "reduce",
  );
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return { reading: {}, setup: parsed.value.setup, options: { assumed: parsed.value.assumed } };
}

const force = forceWork();
const bytes = million();

/** One round with a file that the worker has not seen: seconds to read it, and to reduce it once it is read. */
async function round(
  number: number,
): Promise<{ read_s: number; reduce_s: number; events: number; bytes: number }> {
  const source = { digest: `round ${number}`, bytes };
  const asked = request();
  const start_ms = performance.now();
  const read = await force.read(source, asked.reading);
  const middle_ms = performance.now();
  const reduced = await force.reduce(source, asked);
  const end_ms = performance.now();
  if (!read.ok || !reduced.ok) throw new Error("the million rows were refused");
  return {
    read_s: (middle_ms - start_ms) / 1000,
    reduce_s: (end_ms - middle_ms) / 1000,
    events: reduced.value.events.length,
    bytes: bytes.size,
  };
}

(globalThis as unknown as { round: typeof round }).round = round;
