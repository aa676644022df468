import { collectDefaultMetrics, Gauge, type OpenMetricsContentType, Registry } from "prom-client";
import type { Gateway } from "./gateway.ts";

export type OpenMetricsRegistry = Registry<OpenMetricsContentType>;

/** Figures for whoever collects them, in OpenMetrics text. */
export function createMetrics(gateway: Gateway): OpenMetricsRegistry {
  const registry: OpenMetricsRegistry = new Registry<OpenMetricsContentType>();
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  collectDefaultMetrics({ register: registry });
  const gauge = (name: string, help: string, read: () => number) => {
    new Gauge({
      name: `leeward_${name}`,
      help,
      registers: [registry],
      collect() {
        this.set(read());
      },
    });
  };
  const counts = () => gateway.ingest.counts;
  gauge("messages", "Messages received since the start", () => counts().messages);
  gauge("repeats", "Packs that were there already", () => counts().repeats);
  gauge("dead_letters", "Messages refused since the start", () => counts().deadLetters);
  gauge("batches", "Commits of received messages", () => counts().batches);
  gauge("queued", "Received items that wait for their commit", () => gateway.ingest.queued);
  gauge("estimate_lines", "Lines written by the engines", () => gateway.live.counts.lines);
  gauge(
    "engine_errors",
    "Entries on which an engine failed",
    () => gateway.live.counts.engineErrors,
  );
  gauge("stations", "Stations described", () => gateway.directory.stations().length);
  gauge("nodes", "Nodes heard", () => gateway.registry.all().length);
  gauge("ready", "1 when messages are taken", () => Number(gateway.readiness().ready));
  gauge("broker_connected", "1 while the broker is there", () =>
    Number(gateway.readiness().broker),
  );
  return registry;
}
