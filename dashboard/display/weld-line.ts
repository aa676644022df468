import type { CylinderDocument } from "@leeward/shared-core/documents/cylinder.ts";
import type { ProcedureDocument } from "@leeward/shared-core/documents/procedure.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { words } from "../language/words.ts";
import { fixed } from "./numbers.ts";

const symbols = { Ar: "Ar", CO2: "CO₂", He: "He", N2: "N₂", O2: "O₂", H2: "H₂" } as const;

/** `Argon`, `CO₂`, `Ar 82 / CO₂ 18`. */
export function gasName(composition: CylinderDocument["composition"]): string {
  const parts = (Object.keys(symbols) as (keyof typeof symbols)[])
    .map((symbol) => ({ symbol, share: composition[symbol] ?? 0 }))
    .filter((part) => part.share > 0)
    .sort((a, b) => b.share - a.share);
  const only = parts[0];
  if (only && parts.length === 1) return words.gases[only.symbol];
  return parts
    .map((part) => {
      const percent = part.share * 100;
      const decimals = Math.abs(percent - Math.round(percent)) < 0.05 ? 0 : 1;
      return `${symbols[part.symbol]} ${fixed(percent, decimals)}`;
    })
    .join(" / ");
}

/** A material in the reader's language where it is one of the usual ones, else as it was written. */
export function materialName(material: string): string {
  const names: Readonly<Record<string, string>> = words.actions.materials;
  return names[material] ?? material;
}

function materialOf(procedure: ProcedureDocument): string {
  return procedure.material ? materialName(procedure.material) : "";
}

/** `TIG aluminium, cup 7`. */
export function procedureLine(procedure: ProcedureDocument | undefined): string {
  if (!procedure) return words.weld.none;
  const head = [words.weld.process[procedure.process], materialOf(procedure)]
    .filter(Boolean)
    .join(" ");
  const parts = [head];
  if (procedure.cup !== undefined) parts.push(words.weld.cup(procedure.cup));
  if (procedure.gasLens) parts.push(words.weld.gasLens);
  if (procedure.transfer) parts.push(words.weld.transfer[procedure.transfer]);
  if (procedure.nozzleBoreMm !== undefined) {
    parts.push(words.weld.nozzle(fixed(procedure.nozzleBoreMm, 0)));
  }
  return parts.join(", ");
}

/** The line under a tile's name: what is welded and with which gas. */
export function stationLine(station: StationDocument): string {
  const parts: string[] = [];
  if (station.procedure) {
    const { process, cup } = station.procedure;
    parts.push(
      [words.weld.process[process], materialOf(station.procedure)].filter(Boolean).join(" "),
    );
    if (cup !== undefined) parts.push(words.weld.cup(cup));
  }
  if (station.cylinder) parts.push(gasName(station.cylinder.composition));
  return parts.join(", ");
}

/** `50 L, 200 bar`, `2 × 50 L`, `30 kg`. */
export function cylinderLine(cylinder: CylinderDocument): string {
  const size = `${fixed(cylinder.waterVolumeL, cylinder.waterVolumeL % 1 === 0 ? 0 : 1)} L`;
  const count = cylinder.count > 1 ? `${cylinder.count} × ` : "";
  const filledKg = (cylinder as { filledKg?: number }).filledKg;
  return filledKg === undefined
    ? `${count}${size}`
    : `${count}${fixed(filledKg, filledKg % 1 === 0 ? 0 : 1)} kg`;
}
