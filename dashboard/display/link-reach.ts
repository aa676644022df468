/** How far the address in messages reaches. */
export type LinkReach = "none" | "plain" | "local" | "outside";

const LOCAL_NAMES = /(^localhost|\.local|\.lan|\.home\.arpa|\.internal|\.test)$/;
/** RFC 1918, loopback, link-local and unique local addresses. */
const LOCAL_ADDRESSES =
  /^(127\.|10\.|192\.168\.|169\.254\.|172\.(1[6-9]|2\d|3[01])\.|\[::1\]|\[f[cde])/;

/** Whether a phone outside can open what messages link to, as far as the address tells it. */
export function linkReach(publicUrl: string | null): LinkReach {
  if (publicUrl === null || !URL.canParse(publicUrl)) return "none";
  const { protocol, hostname } = new URL(publicUrl);
  const local =
    LOCAL_ADDRESSES.test(hostname) || LOCAL_NAMES.test(hostname) || !/[.:]/.test(hostname);
  if (local) return "local";
  return protocol === "https:" ? "outside" : "plain";
}
