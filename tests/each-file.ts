import { afterEach } from "vitest";
import { cleanUp } from "./when-over.ts";

// Read anew for each file: the modules that files share are loaded once and could hook in only once.
afterEach(cleanUp);
