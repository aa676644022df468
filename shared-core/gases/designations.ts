import { PhysicsError, type Result, toResult } from "../errors.ts";
import { type Composition, type GasSymbol, gasSymbols, validComposition } from "./composition.ts";

/** Source of symbols, groups and the form of a designation. */
export const designationSource = "iso-14175-2008";

/** Percent of a component: above (or from, where `open` is false) `low`, up to `high`. */
type Share = Readonly<{ low: number; high: number; open: boolean }>;

type Group = Readonly<{
  name: string;
  /** Gases that make up the rest; where argon balances, helium may replace it in part or whole. */
  balance: readonly GasSymbol[];
  shares: Readonly<Partial<Record<GasSymbol, Share>>>;
}>;

const from = (low: number, high: number): Share => ({ low, high, open: false });
const above = (low: number, high: number): Share => ({ low, high, open: true });
const argonOrHelium = ["Ar", "He"] as const;

/** ISO 14175:2008, table 2 (limits from memory of the standard; check before citing them). */
const groups: readonly Group[] = [
  { name: "I1", balance: ["Ar"], shares: {} },
  { name: "I2", balance: ["He"], shares: {} },
  { name: "I3", balance: ["Ar"], shares: { He: from(0.5, 95) } },
  { name: "M11", balance: argonOrHelium, shares: { CO2: from(0.5, 5), H2: from(0.5, 5) } },
  { name: "M12", balance: argonOrHelium, shares: { CO2: from(0.5, 5) } },
  { name: "M13", balance: argonOrHelium, shares: { O2: from(0.5, 3) } },
  { name: "M14", balance: argonOrHelium, shares: { CO2: from(0.5, 5), O2: from(0.5, 3) } },
  { name: "M20", balance: argonOrHelium, shares: { CO2: above(5, 15) } },
  { name: "M21", balance: argonOrHelium, shares: { CO2: above(15, 25) } },
  { name: "M22", balance: argonOrHelium, shares: { O2: above(3, 10) } },
  { name: "M23", balance: argonOrHelium, shares: { CO2: from(0.5, 5), O2: above(3, 10) } },
  { name: "M24", balance: argonOrHelium, shares: { CO2: above(5, 15), O2: from(0.5, 3) } },
  { name: "M25", balance: argonOrHelium, shares: { CO2: above(5, 15), O2: above(3, 10) } },
  { name: "M26", balance: argonOrHelium, shares: { CO2: above(15, 25), O2: from(0.5, 3) } },
  { name: "M27", balance: argonOrHelium, shares: { CO2: above(15, 25), O2: above(3, 10) } },
  { name: "M31", balance: argonOrHelium, shares: { CO2: above(25, 50) } },
  { name: "M32", balance: argonOrHelium, shares: { O2: above(10, 15) } },
  { name: "M33", balance: argonOrHelium, shares: { CO2: above(25, 50), O2: above(2, 10) } },
  { name: "M34", balance: argonOrHelium, shares: { CO2: above(5, 25), O2: above(10, 15) } },
  { name: "M35", balance: argonOrHelium, shares: { CO2: above(25, 50), O2: above(10, 15) } },
  { name: "C1", balance: ["CO2"], shares: {} },
  { name: "C2", balance: ["CO2"], shares: { O2: from(0.5, 30) } },
  { name: "R1", balance: argonOrHelium, shares: { H2: from(0.5, 15) } },
  { name: "R2", balance: argonOrHelium, shares: { H2: above(15, 50) } },
  { name: "N1", balance: ["N2"], shares: {} },
  { name: "N2", balance: argonOrHelium, shares: { N2: from(0.5, 5) } },
  { name: "N3", balance: argonOrHelium, shares: { N2: above(5, 50) } },
  { name: "N4", balance: argonOrHelium, shares: { H2: from(0.5, 10), N2: from(0.5, 5) } },
  { name: "N5", balance: ["N2"], shares: { H2: from(0.5, 50) } },
  { name: "O1", balance: ["O2"], shares: {} },
];

const letters: Readonly<Record<GasSymbol, string>> = {
  Ar: "Ar",
  CO2: "C",
  He: "He",
  N2: "N",
  O2: "O",
  H2: "H",
};

const ROUNDING_PERCENT = 1e-6;

/**
 * The composition behind an ISO 14175 designation, with or without the leading `ISO 14175-`:
 * `I1-Ar`, `M21-ArC-18`, `M12-HeArC-7.5/2.5` (the base gas first, then the components in the
 * order of their percentages). Volume percent of the standard is taken as mole percent.
 *
 * @throws PhysicsError `GAS_DESIGNATION` if it cannot be read or its group contradicts its gases
 */
export function compositionOf(designation: string): Composition {
  const match =
    /^(?:ISO\s?14175(?::\d{4})?\s?[-\s]\s?)?([IMCRNO]\d{1,2}|Z)-((?:Ar|He|C|O|N|H)+)(?:-(\d+(?:\.\d+)?(?:\/\d+(?:\.\d+)?)*))?$/.exec(
      designation.trim(),
    );
  if (match === null) {
    throw refuse(designation, "write it like I1-Ar, M21-ArC-18 or M12-HeArC-7.5/2.5.");
  }
  const [, group = "", gases = "", percents] = match;
  const symbols = (gases.match(/Ar|He|C|O|N|H/g) ?? []).map(symbolOf);
  const shares = percents === undefined ? [] : percents.split("/").map(Number);
  if (shares.length !== symbols.length - 1 || new Set(symbols).size !== symbols.length) {
    throw refuse(designation, "give one percentage for each gas after the first, split by /.");
  }
  const rest = 100 - shares.reduce((sum, share) => sum + share, 0);
  if (!(rest > 0) || shares.some((share) => share === 0)) {
    throw refuse(designation, "its percentages must be above 0 and leave some for the base gas.");
  }
  const entries = symbols.map((symbol, k): [GasSymbol, number] => [
    symbol,
    (k === 0 ? rest : (shares[k - 1] ?? 0)) / 100,
  ]);
  const composition = validComposition(Object.fromEntries(entries));
  const actual = groupOf(composition);
  if (actual !== group) {
    throw refuse(designation, `a gas of this composition belongs to group ${actual}.`);
  }
  return composition;
}

/** As `compositionOf`, as a result instead of a throw. */
export function parseDesignation(designation: string): Result<Composition> {
  return toResult(() => compositionOf(designation));
}

/** The ISO 14175 group (`M21`) of a valid composition; `Z` where no group fits. */
export function groupOf(composition: Composition): string {
  return groups.find((group) => fits(group, composition))?.name ?? "Z";
}

/** The ISO 14175 designation (`M21-ArC-18`) of a composition. */
export function designationOf(composition: Composition): string {
  const valid = validComposition(composition);
  const group = groups.find((candidate) => fits(candidate, valid));
  const percent = (symbol: GasSymbol): number => 100 * (valid[symbol] ?? 0);
  const present = gasSymbols
    .filter((symbol) => percent(symbol) > 0)
    .sort((a, b) => percent(b) - percent(a));
  // The base gas is the one there is most of; the others follow by falling percentage.
  const base = present[0] ?? "Ar";
  const others = present.filter((symbol) => symbol !== base);
  const gases = [base, ...others].map((symbol) => letters[symbol]).join("");
  const shares = others.map((symbol) => Number(percent(symbol).toPrecision(6))).join("/");
  return [group?.name ?? "Z", gases, shares].filter((part) => part !== "").join("-");
}

function fits(group: Group, composition: Composition): boolean {
  return (
    gasSymbols.every((symbol) => {
      const percent = 100 * (composition[symbol] ?? 0);
      const share = group.shares[symbol];
      if (share !== undefined) {
        return (
          percent >= share.low + (share.open ? ROUNDING_PERCENT : -ROUNDING_PERCENT) &&
          percent <= share.high + ROUNDING_PERCENT
        );
      }
      return percent === 0 || group.balance.includes(symbol);
    }) && group.balance.some((symbol) => (composition[symbol] ?? 0) > 0)
  );
}

function symbolOf(letter: string): GasSymbol {
  const symbol = gasSymbols.find((candidate) => letters[candidate] === letter);
  if (symbol === undefined) {
    throw refuse(letter, "gases are written Ar, C, He, N, O, H.");
  }
  return symbol;
}

function refuse(designation: string, remedy: string): PhysicsError {
  return new PhysicsError("GAS_DESIGNATION", "designation", designation, remedy);
}
