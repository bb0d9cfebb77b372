import { useEffect, useState } from "preact/hooks";

/**
 * Addresses live behind the `#`: "#/bench/H-25-14" is the bench with one run open. A static folder under any
 * sub-path can then serve every address with its one page, before the service worker exists and after it is
 * gone (docs/decisions/addresses.md).
 */
export type Address = readonly string[];

export function parseAddress(hash: string): Address {
  return hash
    .replace(/^#?\/?/, "")
    .split("/")
    .filter((part) => part !== "")
    .map(decodePart);
}

export function addressOf(...parts: string[]): string {
  return `#/${parts.map(encodeURIComponent).join("/")}`;
}

export function useAddress(): Address {
  const [address, setAddress] = useState(() => parseAddress(location.hash));
  useEffect(() => {
    const follow = () => setAddress(parseAddress(location.hash));
    addEventListener("hashchange", follow);
    return () => removeEventListener("hashchange", follow);
  }, []);
  return address;
}

/** A hand-typed "%" is not an escape; it then means itself instead of stopping the app. */
function decodePart(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
