import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { BrowserServer } from "playwright-core";
import type { TestProject } from "vitest/node";
import type { RunningGateway } from "./gateway-process.ts";

declare module "vitest" {
  export interface ProvidedContext {
    /** Where files ask for what they share: `/browser`, `/shop`, `/year`, each answered with its address. */
    lender: string;
  }
}

/**
 * One browser for all files, one shop for those that only look at it, and one more for those that look
 * at a year of a station: each is started when first asked for, since a start costs more than most tests,
 * and stopped after the last test. Runs without a file in a browser load nothing of it.
 */
export default async function lend(project: TestProject): Promise<() => Promise<void>> {
  let browser: Promise<BrowserServer> | undefined;
  const shops = new Map<string, Promise<RunningGateway>>();
  const lendShop = async (name: string, start: () => Promise<RunningGateway>) => {
    const shop = shops.get(name) ?? start();
    shops.set(name, shop);
    const { url, brokerUrl } = await shop;
    return `${url} ${brokerUrl}`;
  };
  const lent: Record<string, () => Promise<string>> = {
    "/browser": async () => {
      browser ??= import("./page-checks.ts").then(({ serveBrowser }) => serveBrowser());
      return (await browser).wsEndpoint();
    },
    "/shop": () => lendShop("shop", startShop),
    "/year": () => lendShop("year", startYear),
  };
  const server = createServer((request, answer) => {
    const start = lent[request.url ?? ""] ?? (() => Promise.reject(new Error("nothing to lend")));
    start().then(
      (address) => answer.end(address),
      (error: unknown) => answer.writeHead(500).end(String(error)),
    );
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  project.provide("lender", `http://127.0.0.1:${(server.address() as AddressInfo).port}`);
  return async () => {
    server.close();
    // What failed to start has told so to the file that asked.
    await (await browser?.catch(() => undefined))?.close();
    for (const shop of shops.values()) await (await shop.catch(() => undefined))?.stop();
  };
}

async function startShop(): Promise<RunningGateway> {
  const { startGateway } = await import("./gateway-process.ts");
  return startGateway();
}

/** A shop with a station more, `yearStation`, that has welded for a year. */
async function startYear(): Promise<RunningGateway> {
  const { startYoung } = await import("./gateway-process.ts");
  const { describeStations, fillYear } = await import("../../bench/dashboard/shop.ts");
  const gateway = await startYoung([], fillYear);
  await describeStations(gateway, 0);
  return gateway;
}
