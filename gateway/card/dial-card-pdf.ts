import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import {
  type CardContent,
  type CardInput,
  cardContent,
  cardDate,
  type FloatPart,
  tellCard,
} from "@leeward/shared-core/bench/card-content.ts";
import PDFDocument from "pdfkit";
import QRCode from "qrcode";
import { tellIn } from "./card-language.ts";

const INK = "#1d2226";
const SECOND = "#5b6469";
const RULE = "#dedad1";
const NOW = "#b3261e";
const SLOT = "#d9dfdc";
const GAS = "#7c97a6";
const MARGIN = 40;
const BOLD = "Helvetica-Bold";
const PLAIN = "Helvetica";
const CODE_POINTS = 104;

type Doc = InstanceType<typeof PDFDocument>;

/**
 * The dial card of a station as a one-page A4 PDF, readable at arm's length.
 *
 * @param told language of its words and decimal sign of its numbers; English where left out
 * @returns the bytes of the file
 */
export async function dialCardPdf(
  input: CardInput,
  told: { language: Language; decimal?: string | undefined } = { language: "en" },
): Promise<Uint8Array> {
  // The month stands as a word, so that English needs no choice between its two orders.
  const locale = told.language === "en" ? "en-GB" : told.language;
  const dated = input.date === undefined ? input : { ...input, date: cardDate(input.date, locale) };
  const content = tellCard(cardContent(dated), tellIn(told.language, told.decimal));
  const doc = new PDFDocument({
    size: "A4",
    margin: MARGIN,
    // The same input gives the same file.
    info: { Title: content.documentTitle, Creator: "Leeward", CreationDate: new Date(0) },
  });
  const chunks: Uint8Array[] = [];
  const done = new Promise<void>((resolve, reject) => {
    doc.on("data", (chunk: Uint8Array) => chunks.push(chunk));
    doc.on("end", resolve);
    doc.on("error", reject);
  });
  const width = doc.page.width - 2 * MARGIN;
  const textWidth = input.stationUrl === undefined ? width : width - CODE_POINTS - 16;
  if (input.stationUrl !== undefined) {
    drawCode(doc, input.stationUrl, doc.page.width - MARGIN - CODE_POINTS, MARGIN);
  }
  let y = drawHead(doc, content, textWidth);
  y = drawWarning(doc, content, y, width);
  const foot = footTop(doc, content, width);
  drawTable(doc, content, y, foot - 12, width);
  drawFoot(doc, content, foot, width);
  doc.end();
  await done;
  return Buffer.concat(chunks);
}

function drawHead(doc: Doc, content: CardContent, width: number): number {
  fitted(doc, BOLD, content.title, 34, width);
  doc.fillColor(INK).text(content.title, MARGIN, MARGIN, { width, lineBreak: false });
  fitted(doc, PLAIN, content.gas, 22, width);
  doc.fillColor(INK).text(content.gas, MARGIN, MARGIN + 40, { width, lineBreak: false });
  fitted(doc, BOLD, content.target, 20, width);
  doc.text(content.target, MARGIN, MARGIN + 70, { width, lineBreak: false });
  return MARGIN + CODE_POINTS + 14;
}

function drawWarning(doc: Doc, content: CardContent, y: number, width: number): number {
  if (content.warning === null) return y;
  const text = clipped(content.warning, 420);
  doc.font(BOLD).fontSize(10);
  const height = doc.heightOfString(text, { width: width - 16 }) + 10;
  doc.rect(MARGIN, y, width, height).lineWidth(1.5).strokeColor(NOW).stroke();
  doc.fillColor(NOW).text(text, MARGIN + 8, y + 6, { width: width - 16 });
  return y + height + 8;
}

function drawTable(doc: Doc, content: CardContent, top: number, bottom: number, width: number) {
  const columns = [MARGIN, MARGIN + width * 0.38, MARGIN + width * 0.7];
  doc.font(PLAIN).fontSize(13).fillColor(SECOND);
  doc.text(content.cylinderHead, columns[0]!, top, { lineBreak: false });
  doc.text(content.readingHead, columns[1]!, top, { lineBreak: false });
  doc.text(content.withinHead, columns[2]!, top, { lineBreak: false });
  const first = top + 20;
  const pitch = Math.min(52, (bottom - first) / Math.max(1, content.lines.length));
  const size = Math.min(34, pitch * 0.74);
  content.lines.forEach((line, k) => {
    const y = first + k * pitch;
    doc
      .moveTo(MARGIN, y)
      .lineTo(MARGIN + width, y)
      .lineWidth(0.75)
      .strokeColor(RULE)
      .stroke();
    const textY = y + (pitch - size) / 2;
    doc.font(PLAIN).fontSize(size).fillColor(INK);
    doc.text(line.cylinder, columns[0]!, textY, { lineBreak: false });
    if (line.reading === null) {
      doc.font(BOLD).fontSize(size).fillColor(NOW).text("-", columns[1]!, textY, {
        lineBreak: false,
      });
      const w = MARGIN + width - columns[1]! - 24;
      // A long reason shrinks until it stays inside its line.
      for (let points = 12; points >= 7; points -= 0.5) {
        doc.font(PLAIN).fontSize(points);
        if (doc.heightOfString(line.remark, { width: w }) <= pitch - 4) break;
      }
      const high = doc.heightOfString(line.remark, { width: w });
      doc.fillColor(INK).text(line.remark, columns[1]! + 24, y + Math.max(2, (pitch - high) / 2), {
        width: w,
        height: pitch - 4,
      });
      return;
    }
    doc.font(BOLD).fontSize(size).fillColor(INK);
    doc.text(line.reading, columns[1]!, textY, { lineBreak: false });
    doc.font(PLAIN).fontSize(14).fillColor(SECOND);
    const intervalY = y + (pitch - (line.remark === "" ? 14 : 26)) / 2;
    doc.text(line.interval, columns[2]!, intervalY, { lineBreak: false });
    if (line.remark !== "") {
      doc.fontSize(10).text(line.remark, columns[2]!, intervalY + 16, { lineBreak: false });
    }
  });
}

const FACT_POINTS = 11;
const FACT_LINE = 16;

function footTop(doc: Doc, content: CardContent, width: number): number {
  doc.font(PLAIN).fontSize(9);
  const caution = doc.heightOfString(content.caution, { width });
  return doc.page.height - MARGIN - caution - 30 - content.facts.length * FACT_LINE - 12;
}

function drawFoot(doc: Doc, content: CardContent, top: number, width: number) {
  doc
    .moveTo(MARGIN, top)
    .lineTo(MARGIN + width, top)
    .lineWidth(1.5)
    .strokeColor(INK)
    .stroke();
  const picture = 150;
  const factsWidth = width - picture - 12;
  content.facts.forEach(([label, text], k) => {
    const y = top + 10 + k * FACT_LINE;
    doc.font(PLAIN).fontSize(FACT_POINTS).fillColor(SECOND);
    doc.text(label, MARGIN, y, { lineBreak: false });
    fitted(doc, PLAIN, text, FACT_POINTS, factsWidth - 56);
    doc.fillColor(INK).text(text, MARGIN + 56, y, { lineBreak: false });
  });
  const right = MARGIN + width - picture;
  if (content.readAt !== null) drawFloat(doc, content.readAt, right + 4, top + 10);
  doc.font(BOLD).fontSize(12).fillColor(INK);
  doc.text(content.readAtText, right + (content.readAt === null ? 0 : 62), top + 12, {
    width: picture - (content.readAt === null ? 0 : 62),
  });
  const voidY = top + 12 + content.facts.length * FACT_LINE + 4;
  doc.font(BOLD).fontSize(16).fillColor(NOW);
  doc.text(content.voidText, MARGIN, voidY, { lineBreak: false });
  doc.font(PLAIN).fontSize(9).fillColor(SECOND);
  doc.text(content.caution, MARGIN, voidY + 22, { width });
}

/** A tube with its ball, and a pointer at the part to read. */
function drawFloat(doc: Doc, part: FloatPart, x: number, y: number) {
  const radius = 11;
  const middle = y + 36;
  doc.rect(x, y, 30, 72).fillColor(SLOT).fill();
  doc
    .circle(x + 15, middle, radius)
    .fillColor(GAS)
    .fill();
  const offset = part === "float-top" ? -radius : part === "float-bottom" ? radius : 0;
  const level = middle + offset;
  doc
    .moveTo(x - 2, level)
    .lineTo(x + 46, level)
    .lineWidth(2)
    .strokeColor(NOW)
    .stroke();
  doc
    .moveTo(x + 36, level)
    .lineTo(x + 50, level - 5)
    .lineTo(x + 50, level + 5)
    .closePath()
    .fillColor(NOW)
    .fill();
}

/** The code drawn as squares, so that it stays sharp on any printer. */
function drawCode(doc: Doc, text: string, x: number, y: number) {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: "M" });
  // Four modules of quiet zone, ISO/IEC 18004.
  const cell = CODE_POINTS / (modules.size + 8);
  for (let row = 0; row < modules.size; row++) {
    for (let column = 0; column < modules.size; column++) {
      if (modules.get(row, column)) {
        doc.rect(x + (column + 4) * cell, y + (row + 4) * cell, cell * 1.02, cell * 1.02);
      }
    }
  }
  doc.fillColor("#000000").fill();
}

/** Sets the largest type size, at most `points`, at which a text stays on one line. */
function fitted(doc: Doc, font: string, text: string, points: number, width: number) {
  doc.font(font).fontSize(points);
  const wide = doc.widthOfString(text);
  if (wide > width) doc.fontSize(Math.max(6, (points * width) / wide));
}

function clipped(text: string, most: number): string {
  return text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;
}
