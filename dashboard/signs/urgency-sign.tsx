import type { Urgency } from "../display/urgency.ts";

/** Octagon, triangle or sheet: the shape that goes with the word. The word stands beside it. */
export function UrgencySign({ urgency }: { urgency: Urgency }) {
  return (
    <svg class={`sign sign-${urgency}`} viewBox="0 0 32 32" aria-hidden="true">
      {urgency === "now" && (
        <>
          <path class="sign-ground" d="M10 1h12l9 9v12l-9 9H10l-9-9V10z" />
          <path
            class="sign-mark"
            d="M14 7h4l-.8 11h-2.4zM16 20.6a2.2 2.2 0 1 1 0 4.4 2.2 2.2 0 0 1 0-4.4z"
          />
        </>
      )}
      {urgency === "soon" && (
        <>
          <path class="sign-ground" d="M16 2.2 31.2 29.5H.8z" stroke-linejoin="round" />
          <path class="sign-mark" d="M14.3 11h3.4l-.6 9h-2.2zM16 22a2 2 0 1 1 0 4 2 2 0 0 1 0-4z" />
        </>
      )}
      {urgency === "today" && (
        <>
          <path class="sign-ground" d="M5 2h16l6 6v22H5z" />
          <path class="sign-mark" d="M9.5 12h13v2.6h-13zM9.5 17.5h13v2.6h-13zM9.5 23h8v2.6h-8z" />
        </>
      )}
    </svg>
  );
}
