import { expect, test } from "vitest";
import { moneyText } from "../../../dashboard/display/money.ts";

test("an amount has its currency, or says that none is set", () => {
  expect(moneyText(85, "EUR")).toMatch(/^€85\.00$/);
  expect(moneyText(85, null)).toBe("85.00 (currency not set)");
});
