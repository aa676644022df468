import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { dirname, resolve } from "node:path";
import { StartError } from "./start-error.ts";

/** Makes sure that the data folder is there and can be read and written. Returns its full path. */
export function prepareDataFolder(folder: string): string {
  const path = resolve(folder);
  const wayOut = "Choose another folder with --data, or make this one yours (chown, chmod).";
  try {
    makeFolder(path);
  } catch (error) {
    throw new StartError(
      `The data folder ${path} cannot be made (${reason(error)}). ${wayOut}`,
      error,
    );
  }
  if (!statSync(path).isDirectory()) {
    throw new StartError(`The data folder ${path} is a file. Choose another folder with --data.`);
  }
  try {
    accessSync(path, constants.R_OK | constants.X_OK);
  } catch (error) {
    throw new StartError(
      `The data folder ${path} cannot be read (${reason(error)}). ${wayOut}`,
      error,
    );
  }
  try {
    const probe = resolve(path, `.write-test-${process.pid}`);
    writeFileSync(probe, "");
    rmSync(probe);
  } catch (error) {
    throw new StartError(
      `The data folder ${path} cannot be written (${reason(error)}). ${wayOut}`,
      error,
    );
  }
  return path;
}

/** Step by step: Node's own recursive way never returns on a file system that refuses folders. */
function makeFolder(path: string): void {
  if (existsSync(path)) return;
  makeFolder(dirname(path));
  mkdirSync(path);
}

function reason(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === "EACCES" || code === "EPERM") return "permission denied";
  if (code === "EROFS") return "the disk is read-only";
  if (code === "ENOSPC") return "the disk is full";
  if (code === "ENOENT") return "this file system takes no folder there";
  if (code === "ENOTDIR" || code === "EEXIST") return "a file is in the way";
  return code ?? String(error);
}
