import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import { nowS } from "../api/store.ts";
import { isSetAside } from "../display/former-node.ts";
import { setupWords } from "../language/setup-words.ts";
import { SelectField } from "../shell/fields.tsx";
import { IdentifyButton } from "./identify-button.tsx";
import { type FormPart, Group } from "./inputs.tsx";
import { CylinderSensorGroup, Ratings } from "./sensors-step.tsx";
import { useNodes } from "./use-node.ts";

/** Which node has the sensor at the cylinder, and what that sensor is. */
export function SupplySensor(props: {
  part: FormPart;
  chosen: readonly StationView[];
  before: SupplyDocument | null;
}) {
  const text = setupWords.supply;
  const { part, chosen, before } = props;
  const { form, set } = part;
  const nodes = useNodes().filter((one) => one.site === form.site);
  const atStation = new Map(
    chosen.flatMap(({ name, description }) =>
      description.node ? [[description.node, name] as const] : [],
    ),
  );
  const free = nodes
    .filter((one) => one.owner === null && !isSetAside(one, nowS.value))
    .map(({ node }) => node);
  const names = [
    ...new Set([...(before?.node ? [before.node] : []), ...atStation.keys(), ...free]),
  ];
  if (form.node !== "" && !names.includes(form.node)) names.unshift(form.node);
  const heard = nodes.find(({ node }) => node === form.node);
  return (
    <>
      <Group>
        <SelectField
          label={text.node}
          value={form.node}
          options={[
            { value: "", text: text.noNode },
            ...names.map((node) => {
              const station = atStation.get(node);
              return { value: node, text: station ? text.nodeOf(node, station) : node };
            }),
          ]}
          onChange={(node) => set({ node })}
        />
        {atStation.has(form.node) && (
          <p class="quiet">{text.measuresBoth(form.node, atStation.get(form.node) ?? "")}</p>
        )}
        {heard && <IdentifyButton id={heard.id} />}
      </Group>
      <CylinderSensorGroup part={part} />
      <Ratings part={part} />
    </>
  );
}
