import "./style/fonts.css";
import "./style/tokens.css";
import "./style/base.css";
import "./style/signs.css";
import "./style/floor.css";
import "./style/history.css";
import "./style/station.css";
import "./style/explain.css";
import "./style/forms.css";
import { render } from "preact";
import { startLive } from "./api/live.ts";
import { App } from "./app.tsx";
import { applySettings } from "./settings/settings.ts";

// The page's policy forbids making code from text: the validation library is not to try.
Object.assign(globalThis, { __zod_globalConfig: { jitless: true } });

startLive();
await applySettings();
const host = document.getElementById("app");
if (host) render(<App />, host);
