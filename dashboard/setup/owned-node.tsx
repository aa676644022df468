import type { NodeView } from "@leeward/shared-core/api/setup.ts";
import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { type Answer, getStation } from "../api/client.ts";
import { stations } from "../api/store.ts";
import { setupWords } from "../language/setup-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";

/** Whose a node is: the id of a station, or the name of a shared supply; null where it is free. */
export type Owner = { station: string } | { supply: string };

export function ownerOf(node: NodeView | undefined): Owner | null {
  const [kind, name = ""] = node?.owner?.split(":") ?? [];
  if (kind === "supply") return { supply: name };
  return kind === "station" ? { station: `${node?.site}.${name}` } : null;
}

/** A node that another place has: whose it is, and the way to have it here once this is saved. */
export function OwnedNode(props: {
  node: string;
  owner: Owner;
  /** It is to be taken away from that station. */
  taken: boolean;
  /** The station that is to give it up, as it is described now; null where it is to keep it. */
  onTake: (from: StationView | null) => void;
}) {
  const text = setupWords.node;
  const { node, owner, taken, onTake } = props;
  const [answer, setAnswer] = useState<Answer<StationView> | null>(null);
  const [asking, setAsking] = useState(false);
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
  if (taken) {
    return (
      <div class="noted" role="status" data-field="moved">
        <p>{text.moves(name)}</p>
        <p>
          <button type="button" class="button" onClick={() => onTake(null)}>
            {text.leave(name)}
          </button>
        </p>
      </div>
    );
  }

  async function take(): Promise<void> {
    if (!("station" in owner)) return;
    setAsking(true);
    // Its sensors as they are described now come along.
    const fresh = await getStation(owner.station);
    setAsking(false);
    setAnswer(fresh);
    if (fresh.ok) onTake(fresh.value);
  }

  return (
    <div class="problem" role="alert" data-field="owned">
      <p>
        <strong>{text.owned(node, name)}</strong> {text.moveNote(name)}
      </p>
      <p>
        <button type="button" class="button button-glove" disabled={asking} onClick={take}>
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
