/**
 * SHA-256 of a whole file, in hexadecimal. By the browser and beside the page: in script a record of a million rows
 * would hold the page still for a second.
 */
export async function digestBytes(bytes: ArrayBuffer): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(hash, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
