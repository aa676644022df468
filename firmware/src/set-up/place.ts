/**
 * What a person tells a node on the spot: its network, its gateway, who it is. Kept in the file
 * `place`, one `name=value` a line, and laid over what the file `provision` says.
 */
/** "" and 0: not told. */
export interface Place {
  network: string;
  /** Of the network; "" for an open one. */
  password: string;
  host: string;
  port: number;
  site: string;
  node: string;
  secret: string;
}

export function emptyPlace(): Place {
  return { network: "", password: "", host: "", port: 0, site: "", node: "", secret: "" };
}

/** Lines without a known name are left out: a damaged file says less, never something else. */
export function readPlace(content: string | undefined): Place {
  const place = emptyPlace();
  for (const [name, value] of string.gmatch(content ?? "", "(%l+)=([^\r\n]*)")) {
    if (name === "network") place.network = value;
    else if (name === "password") place.password = value;
    else if (name === "host") place.host = value;
    else if (name === "port") place.port = tonumber(value) ?? 0;
    else if (name === "site") place.site = value;
    else if (name === "node") place.node = value;
    else if (name === "secret") place.secret = value;
  }
  return place;
}

export function placeText(place: Place): string {
  return (
    `network=${place.network}\npassword=${place.password}\nhost=${place.host}\n` +
    `port=${string.format("%d", place.port)}\n` +
    `site=${place.site}\nnode=${place.node}\nsecret=${place.secret}\n`
  );
}
