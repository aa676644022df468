/** Runs a bundle from the image in flash (LFS) where it is there, else from its file. */
export function loadBundle(root: string, name: string): unknown {
  const image = node.LFS?.get(name);
  return image === undefined ? dofile(`${root}${name}.lua`) : image();
}
