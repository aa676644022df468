/** Whether this browser lends its camera to the page: it does so over https only. */
export function lendsCamera(): boolean {
  return navigator.mediaDevices?.getUserMedia !== undefined;
}
