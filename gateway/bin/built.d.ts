export function stampOf(file: URL): string;
export function isFresh(dist: URL): boolean;
