import type { NodeView } from "@leeward/shared-core/api/setup.ts";
import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { type Answer, getStation, getStations, putStation } from "../api/client.ts";
import { stations, takeList } from "../api/store.ts";
import { setupWords } from "../language/setup-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { withOtherNode } from "./other-node.ts";

/** Whose a node is: the id of a station, or the name of a shared supply; null where it is free. */
export type Owner = { station: string } | { supply: string };

export function ownerOf(node: NodeView | undefined): Owner | null {
  const [kind, name = ""] = node?.owner?.split(":") ?? [];
  if (kind === "supply") return { supply: name };
  return kind === "station" ? { station: `${node?.site}.${name}` } : null;
}

/** A node that another place has: whose it is, and the way to have it here. */
export function OwnedNode(props: {
  node: string;
  owner: Owner;
  /** It was taken away from this station, as it was described until then. */
  onTaken: (from: StationView) => void;
}) {
  const text = setupWords.node;
  const { node, owner, onTaken } = props;
  const [answer, setAnswer] = useState<Answer<StationView> | null>(null);
  const [sending, setSending] = useState(false);
  if ("supply" in owner) {
    return (
      <p class="problem" role="alert" data-field="owned">
        {text.ownedBySupply(node, owner.supply)}
      </p>
    );
  }
  const view = stations.value.get(owner.station);
  const name = view?.name ?? owner.station;
  if (view?.virtual) {
    return (
      <p class="problem" role="alert" data-field="owned">
        {text.ownedByDemo(node)}
      </p>
    );
  }

  async function take(): Promise<void> {
    if (!("station" in owner)) return;
    setSending(true);
    // Asked for anew: what was changed there meanwhile must not be undone.
    const fresh = await getStation(owner.station);
    if (!fresh.ok) {
      setSending(false);
      setAnswer(fresh);
      return;
    }
    const { description, version } = fresh.value;
    const done = await putStation(owner.station, withOtherNode(description, null), version);
    setSending(false);
    setAnswer(done);
    if (!done.ok) return;
    const list = await getStations();
    if (list.ok) takeList(list.value);
    onTaken(fresh.value);
  }

  return (
    <div class="problem" role="alert" data-field="owned">
      <p>
        <strong>{text.owned(node, name)}</strong> {text.moveNote(name)}
      </p>
      <p>
        <button type="button" class="button button-glove" disabled={sending} onClick={take}>
          {text.move(name)}
        </button>
      </p>
      <p>
        <a href={`#/setup/station/${owner.station}`}>{setupWords.change(name)}</a>
      </p>
      <ProblemNote answer={answer} />
    </div>
  );
}
