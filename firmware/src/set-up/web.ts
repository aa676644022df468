/** The node's page: answers what a phone asks. */
import type { WebConversation } from "../ports.ts";
import { formPage, type PageFaults, savedPage } from "./page.ts";
import { readPlace } from "./place.ts";
import { placeFile } from "./place-names.ts";
import { savePlace, stateOf } from "./place-saving.ts";
import type { ReachState } from "./reach-state.ts";
import { answerHead, formField, hearPiece, type Request, type Talk } from "./talk.ts";
import { takeCode, takeGateway, takeNetwork, takePassword } from "./telling.ts";

function fault(): PageFaults {
  return { network: "", password: "", gateway: "", code: "" };
}

function takeForm(state: ReachState, body: string): string[] {
  const { ports } = state;
  const place = readPlace(ports.readFile(placeFile));
  const faults = fault();
  const network = formField(body, "network");
  const gateway = formField(body, "gateway");
  const code = formField(body, "code");
  faults.network = takeNetwork(place, network);
  faults.password = takePassword(place, formField(body, "password"));
  faults.gateway = takeGateway(place, gateway);
  if (code !== "" || !ports.enrolled) {
    faults.code = code === "" ? "is missing" : takeCode(place, code);
  }
  const sound =
    faults.network === "" && faults.password === "" && faults.gateway === "" && faults.code === "";
  const why = sound ? savePlace(state, place) : "Nothing was saved yet.";
  if (why === "") return savedPage(network);
  const said = sound ? `It was not saved: ${why}.` : why;
  return formPage(ports.name, said, ports.enrolled, { network, gateway, code }, faults);
}

function respond(state: ReachState, request: Request): string[] {
  const { ports } = state;
  let status = "200 OK";
  let more = "";
  let pieces: string[] = [];
  if (request.method === "POST") {
    pieces = takeForm(state, request.body);
  } else if (request.method !== "GET" && request.method !== "HEAD") {
    status = "405 Method Not Allowed";
    more = "Allow: GET, POST\r\n";
  } else if (request.path === "/") {
    const gateway = ports.host === "" ? "" : string.format("%s:%d", ports.host, ports.port);
    const fields = { network: ports.network, gateway, code: "" };
    pieces = formPage(ports.name, stateOf(state), ports.enrolled, fields, fault());
  } else {
    // Phones ask for pages of their makers to find out whether there is a way to the internet.
    status = "302 Found";
    more = "Location: http://192.168.4.1/\r\n";
  }
  const answer = [answerHead(status, pieces, more)];
  if (request.method !== "HEAD") for (const piece of pieces) answer.push(piece);
  return answer;
}

export function converse(state: ReachState): WebConversation {
  const talk: Talk = { text: "", answered: false };
  return {
    take: (data) => {
      const heard = hearPiece(talk, data);
      if (heard === undefined) return undefined;
      talk.answered = true;
      talk.text = "";
      state.personS = state.uptimeS;
      if (type(heard) === "string") return [answerHead(heard as string, [], "")];
      return respond(state, heard as Request);
    },
  };
}
