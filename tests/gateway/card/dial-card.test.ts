import { inflateSync } from "node:zlib";
import { cardContent } from "@leeward/shared-core/bench/card-content.ts";
import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { type BenchResult, fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, it } from "vitest";
import { dialCardPdf } from "../../../gateway/card/dial-card-pdf.ts";

const station = stationSchema.parse({
  schema: 1,
  station: "slip-1",
  site: "yard",
  name: "Slipway 1",
  cylinder: {
    gas: "I1-Ar",
    composition: { Ar: 1 },
    waterVolumeL: 44,
    filledBar: 152.8,
    filledC: 21,
    residualBar: 10,
  },
  regulator: { stages: 1, adjust: "preset", deliveryBar: 3.45 },
  flowDevice: {
    kind: "variable-area",
    scaleGas: { Ar: 1 },
    scaleBar: 3.45,
    scaleC: 21,
    scaleMin: 10,
    scaleMax: 60,
    valve: "after-tube",
    float: "ball",
    readAt: "float-bottom",
    readingUnit: "CFH",
  },
});

function result(targetLpm: number): BenchResult {
  const rows = parseBenchCsv(
    "cylinder_psi,indicated_cfh,true_cfh,true_u_percent,action\n2200,40,41,2,set\n1000,40,35,2,redialled\n200,40,27.5,2,redialled\n",
    { Ar: 1 },
  );
  if (!rows.ok) throw new Error(rows.faults.join());
  const answer = fitDevice(station, rows.value, { targetLpm });
  if (!answer.ok) throw new Error(answer.why);
  return answer.value;
}

const input = {
  station,
  result: result(18.8),
  serial: "VA-2231",
  stationUrl: "https://shop.example/s/yard.slip-1",
  date: "2026-11-25",
  meter: "thermal meter, cert. 4411",
};

/** Text of a PDF in order of drawing: its streams inflated, its glyph strings decoded. */
function textOf(pdf: Uint8Array): string {
  const raw = Buffer.from(pdf);
  const parts: string[] = [];
  let at = raw.indexOf("stream\n");
  while (at >= 0) {
    const end = raw.indexOf("\nendstream", at);
    try {
      parts.push(inflateSync(raw.subarray(at + 7, end)).toString("latin1"));
    } catch {
      // Not a compressed content stream.
    }
    at = raw.indexOf("stream\n", end + 10);
  }
  return [...parts.join("\n").matchAll(/\[((?:<[0-9a-f]*>|[-\d. ])*)\] TJ/g)]
    .map((match) =>
      [...match[1]!.matchAll(/<([0-9a-f]*)>/g)]
        .map((piece) => Buffer.from(piece[1]!, "hex").toString("latin1"))
        .join(""),
    )
    .join("\n");
}

describe("words of the card", () => {
  it("carries station, gas, device, scale, part of the float, test and meter", () => {
    const content = cardContent(input);
    expect(content.title).toBe("Slipway 1");
    expect(content.target).toBe("True flow wanted: 40 CFH");
    expect(Object.fromEntries(content.facts)).toEqual({
      Station: "yard / slip-1",
      Device: "float tube, serial VA-2231",
      Gas: "I1-Ar",
      Scale: "10 to 60 CFH, Ar at 50 psi",
      Test: "2026-11-25; meter: thermal meter, cert. 4411",
    });
    expect(content.readAtText).toContain("BOTTOM of the float");
    expect(content.voidText).toContain("VOID if regulator, tube, gas or torch changes");
    expect(content.caution).toContain("Local rules come first");
  });

  it("gives a reading from full to residual, and why where there is none", () => {
    const content = cardContent(input);
    expect(content.lines[0]!.cylinder).toBe("2216 psi");
    expect(content.lines.at(-1)!.cylinder).toBe("145 psi");
    expect(content.lines[0]!.reading).toMatch(/^\d\d$/);
    const none = content.lines.filter((line) => line.reading === null);
    for (const line of none) expect(line.remark).toMatch(/Change the cylinder/);
    const high = cardContent({ ...input, result: result(27) });
    expect(high.lines.at(-1)!.reading).toBeNull();
  });

  it("what was not stated is said so", () => {
    const content = cardContent({ station, result: input.result });
    const facts = content.facts.map(([, text]) => text).join();
    expect(facts).toContain("serial not stated");
    expect(facts).toContain("date not stated; meter: not stated");
  });

  it("warns where the test is incomplete or contradicts itself", () => {
    expect(cardContent(input).warning).toBeNull();
    const open = { ...input.result, consistent: null, why: "cannot tell yet: only 1 row" };
    expect(cardContent({ ...input, result: open }).warning).toContain("Test incomplete");
    const bad = { ...input.result, consistent: false, why: "row 2 cannot come" };
    expect(cardContent({ ...input, result: bad }).warning).toContain("row 2 cannot come");
  });
});

describe("the PDF", () => {
  it.each([
    [
      "de",
      [
        "25. November 2026",
        "Gewünschter wahrer Durchfluss",
        "Flasche zeigt",
        "genau auf",
        "UNGÜLTIG",
      ],
    ],
    [
      "es",
      [
        "25 de noviembre de 2026",
        "Caudal real deseado",
        "Botella marca",
        "margen",
        "NULA si cambia",
      ],
    ],
  ] as const)("speaks %s, with no English sentence left", async (language, said) => {
    const open = { ...input.result, consistent: null, why: "no row has a reading of the device" };
    const file = await dialCardPdf({ ...input, result: open }, { language });
    expect(Buffer.from(file).toString("latin1")).toContain(
      `(${{ de: "Einstellkarte", es: "Tarjeta de ajuste" }[language]}, Slipway 1)`,
    );
    const pdf = textOf(file);
    for (const word of [...said, "thermal meter, cert. 4411"]) expect(pdf).toContain(word);
    expect(pdf.replace("thermal meter", "")).not.toMatch(
      /\b(the|with|shows|wanted|right within|serial|float|Station|gas flowing|meter|not)\b/,
    );
  });

  it("is one page and shows every word of the card", async () => {
    const pdf = await dialCardPdf(input);
    expect(
      Buffer.from(pdf)
        .toString("latin1")
        .match(/\/Type \/Page\b/g),
    ).toHaveLength(1);
    const text = textOf(pdf);
    const content = cardContent(input);
    for (const line of content.lines) {
      expect(text).toContain(line.cylinder);
      if (line.reading !== null) expect(text).toContain(line.reading);
    }
    for (const word of ["Slipway 1", "VOID if regulator", "serial VA-2231", "cert. 4411"]) {
      expect(text).toContain(word);
    }
  });

  it("stays on one page with long names, many reasons and a long warning", async () => {
    const long = { ...input.result, consistent: false, why: "row 7 cannot come ".repeat(60) };
    const pdf = await dialCardPdf({
      ...input,
      station: { ...station, name: "The very long slipway at the far end of yard number nine" },
      result: {
        ...long,
        card: long.card.map((one) => ({ ...one, dialTo: null, why: "x ".repeat(90) })),
      },
      meter: "a meter with a very long certificate name ".repeat(4),
    });
    expect(
      Buffer.from(pdf)
        .toString("latin1")
        .match(/\/Type \/Page\b/g),
    ).toHaveLength(1);
  });

  it("the same input gives the same drawing", async () => {
    expect(textOf(await dialCardPdf(input))).toBe(textOf(await dialCardPdf(input)));
  });

  it("without a station address there is no code", async () => {
    const { stationUrl: _, ...bare } = input;
    expect((await dialCardPdf(bare)).length).toBeLessThan((await dialCardPdf(input)).length);
  });
});
