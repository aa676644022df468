import { exampleSite } from "@leeward/gateway/virtual-shop/example-stations.ts";
import { expect, test } from "vitest";
import { startTestGateway } from "../support.ts";

test("the demo's texts are in the units of its shop, until somebody says otherwise", async () => {
  const { gateway, clock } = await startTestGateway();
  const { sites } = gateway;
  expect(sites.forEngine("boatyard")).toBeUndefined();
  sites.assume(exampleSite());
  // Else an American scale at one place would turn this yard's messages to psi.
  expect(sites.forEngine("boatyard")?.units?.pressure).toBe("bar");
  expect(sites.currencyOf("boatyard")).toBe("EUR");
  expect(sites.get("boatyard")).toBeNull();

  const { currency: _, ...document } = exampleSite();
  const own = { ...document, units: { ...document.units, pressure: "psi" as const } };
  expect(await sites.save(own, 0, clock)).toMatchObject({ ok: true });
  expect(sites.forEngine("boatyard")?.units?.pressure).toBe("psi");
  // What was said is all of it: the demo's currency no longer counts.
  expect(sites.currencyOf("boatyard")).toBeNull();
});
