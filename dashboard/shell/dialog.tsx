import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

/** A modal dialog with its heading; Escape and the backdrop close it. The browser keeps the focus. */
export function Dialog(props: { title: string; onClose: () => void; children: ComponentChildren }) {
  const { title, onClose, children } = props;
  const element = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const dialog = element.current;
    if (dialog && !dialog.open) dialog.showModal();
  }, []);
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: Escape closes a modal dialog by itself
    <dialog
      ref={element}
      class="dialog"
      aria-labelledby={heading}
      onClose={onClose}
      onClick={(event) => {
        if (event.target === element.current) onClose();
      }}
    >
      <div class="dialog-inside">
        {/* First focus on the heading: it is read out, and no phone keyboard covers the buttons. */}
        <h2 id={heading} tabIndex={-1} autofocus>
          {title}
        </h2>
        {children}
      </div>
    </dialog>
  );
}
