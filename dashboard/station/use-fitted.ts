import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { CylinderDocument } from "@leeward/shared-core/documents/cylinder.ts";
import type { SensorsDocument } from "@leeward/shared-core/documents/hardware.ts";
import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { getSupply, type SupplyView } from "../setup/setup-api.ts";

/** What a station draws from: its own cylinder, or that of a supply with other stations. */
export interface Fitted {
  cylinder: CylinderDocument | null;
  sensors: SensorsDocument | undefined;
  /** The shared supply, and the other stations that it feeds. */
  shared: { supply: string; others: readonly string[] } | null;
}

/** `fitted` is null while a shared supply is on its way, or where it could not be fetched. */
export function useFitted(view: StationView): {
  fitted: Fitted | null;
  failed: Answer<SupplyView> | null;
} {
  const { supply, site, station, cylinder, sensors } = view.description;
  const [answer, setAnswer] = useState<Answer<SupplyView> | null>(null);
  useEffect(() => {
    let gone = false;
    setAnswer(null);
    if (!supply) return;
    void getSupply(`${site}.${supply}`).then((got) => {
      if (!gone) setAnswer(got);
    });
    return () => {
      gone = true;
    };
  }, [site, supply]);
  if (!supply)
    return { fitted: { cylinder: cylinder ?? null, sensors, shared: null }, failed: null };
  if (!answer?.ok) return { fitted: null, failed: answer };
  const { description } = answer.value;
  const others = description.drops.filter((drop) => drop !== station);
  return {
    fitted: {
      cylinder: description.cylinder,
      sensors: description.sensors,
      shared: { supply, others },
    },
    failed: null,
  };
}
