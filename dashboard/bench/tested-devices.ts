import type { BenchTestView } from "@leeward/shared-core/bench/bench-test-document.ts";
import { type ComparedDevice, comparedDevice } from "@leeward/shared-core/bench/compare.ts";
import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { type BenchResult, fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { stations } from "../api/store.ts";

/** A kept test with what its rows say, and the station whose device it is. */
export interface FittedTest {
  station: StationDocument;
  result: BenchResult;
}

/** Fits a kept test; null where its station is gone or nothing can be fitted. */
export function fittedTest({ test }: BenchTestView): FittedTest | null {
  const station = stations.value.get(test.station)?.description;
  const rows = station && parseBenchCsv(test.csv, station.cylinder?.composition ?? null);
  if (!station || !rows?.ok) return null;
  const target = test.targetLpm === null ? {} : { targetLpm: test.targetLpm };
  const answer = fitDevice(station, rows.value, target);
  return answer.ok ? { station, result: answer.value } : null;
}

/** Every kept test as a device to compare; a test that cannot be fitted is left out. */
export function comparedTests(tests: readonly BenchTestView[]): ComparedDevice[] {
  return tests.flatMap((one) => {
    const fitted = fittedTest(one);
    if (!fitted) return [];
    const { name, restBar, flowingBar, price } = one.test;
    return [comparedDevice({ name, result: fitted.result, restBar, flowingBar, price })];
  });
}
