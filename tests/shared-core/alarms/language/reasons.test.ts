import { readdirSync, readFileSync } from "node:fs";
import { germanReasons } from "@leeward/shared-core/alarms/language/german-reasons.ts";
import { reasonIn } from "@leeward/shared-core/alarms/language/say.ts";
import { spanishReasons } from "@leeward/shared-core/alarms/language/spanish-reasons.ts";
import ts from "typescript";
import { expect, test } from "vitest";

const core = new URL("../../../../shared-core/", import.meta.url).pathname;

/** Texts that an expression may stand for; values of a template as `{}`. */
function textsOf(node: ts.Expression): string[] {
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (ts.isTemplateExpression(node)) {
    return [node.head.text + node.templateSpans.map((span) => `{}${span.literal.text}`).join("")];
  }
  if (ts.isConditionalExpression(node)) {
    return [...textsOf(node.whenTrue), ...textsOf(node.whenFalse)];
  }
  if (ts.isBinaryExpression(node)) return [...textsOf(node.left), ...textsOf(node.right)];
  return ts.isParenthesizedExpression(node) ? textsOf(node.expression) : [];
}

/** What a node gives as a reason: a `why` of an object, a variable, an assignment, a function. */
function reasonsAt(node: ts.Node): string[] {
  if (ts.isPropertyAssignment(node) && /^(why|untold|cannotTell)$/.test(node.name.getText())) {
    return textsOf(node.initializer);
  }
  if (ts.isVariableDeclaration(node) && /why$/i.test(node.name.getText()) && node.initializer) {
    return textsOf(node.initializer);
  }
  if (
    ts.isBinaryExpression(node) &&
    node.operatorToken.kind === ts.SyntaxKind.EqualsToken &&
    node.left.getText().endsWith(".why")
  ) {
    return textsOf(node.right);
  }
  if (ts.isFunctionDeclaration(node) && /why/i.test(node.name?.getText() ?? "")) {
    const found: string[] = [];
    const visit = (inner: ts.Node): void => {
      if (ts.isReturnStatement(inner) && inner.expression) found.push(...textsOf(inner.expression));
      ts.forEachChild(inner, visit);
    };
    visit(node);
    return found;
  }
  return [];
}

function reasonsOf(folder: string): string[] {
  const found = new Set<string>();
  for (const file of readdirSync(`${core}${folder}`).filter((name) => name.endsWith(".ts"))) {
    const text = readFileSync(`${core}${folder}/${file}`, "utf8");
    const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
    const visit = (node: ts.Node): void => {
      for (const reason of reasonsAt(node)) if (reason.includes(" ")) found.add(reason);
      ts.forEachChild(node, visit);
    };
    visit(source);
  }
  return [...found];
}

const reasons = [...reasonsOf("estimation"), ...reasonsOf("alarms")];

test("the reasons are found in the code", () => {
  expect(reasons).toContain("the flow is not known yet");
  expect(reasons).toContain("no data: held from the last reading");
  expect(reasons.length).toBeGreaterThan(20);
});

test.each(reasons)("%s: told in German and Spanish", (reason) => {
  for (const table of [germanReasons, spanishReasons]) {
    const own = table[reason] ?? "";
    expect(own).not.toBe("");
    expect(own).not.toBe(reason);
    expect(own.split("{}").length).toBe(reason.split("{}").length);
  }
});

test("a demand's reasons: each value told, clauses one by one, decimals as the reader writes them", () => {
  const why =
    "a draught of 1.5 m/s is above 1 m/s: put up a screen, more gas does not help (common practice, no source); minimum and maximum hold behind the screen";
  expect(reasonIn(why, { reasons: germanReasons, decimal: "," })).toBe(
    "Zugluft von 1,5 m/s liegt über 1 m/s: Windschutz aufstellen, mehr Gas hilft nicht (übliche Praxis, keine Quelle); Mindest- und Höchstwert gelten hinter dem Windschutz",
  );
});

test("a value inside a reason stays, an unknown reason stays English", () => {
  const german = { reasons: germanReasons };
  expect(reasonIn("the line pressure is not known: its sensor is out (stuck)", german)).toBe(
    "der Leitungsdruck ist nicht bekannt: Sein Sensor ist ausgefallen (stuck)",
  );
  expect(reasonIn("of a later version", german)).toBe("of a later version");
});
