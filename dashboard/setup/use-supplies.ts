import { useEffect, useState } from "preact/hooks";
import { getSupplies, type SupplyView } from "./setup-api.ts";

/** Shared supplies as they are stored when the page opens; null until they are known. */
export function useSupplies(): readonly SupplyView[] | null {
  const [supplies, setSupplies] = useState<readonly SupplyView[] | null>(null);
  useEffect(() => {
    let gone = false;
    void getSupplies().then((answer) => {
      if (answer.ok && !gone) setSupplies(answer.value.supplies);
    });
    return () => {
      gone = true;
    };
  }, []);
  return supplies;
}
