/** A station's name from what people call it: `Slipway 3` becomes `slipway-3`; null if none is left. */
export function stationName(name: string): string | null {
  const plain = name
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/ß/g, "ss")
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 32)
    .replace(/-+$/g, "");
  return plain === "" ? null : plain;
}
