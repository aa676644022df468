import { useEffect, useRef, useState } from "preact/hooks";
import { setupWords as text } from "../language/setup-words.ts";
import { codeReader } from "./code-reader.ts";

const LOOK_MS = 250;

/** The camera's picture until a code is found. */
export function CodeScanner(props: { onCode: (code: string) => void; onStop: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let over = false;
    let stream: MediaStream | null = null;
    const look = async () => {
      const read = await codeReader();
      if (over) return;
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
      const element = video.current;
      if (over || !element) return stop();
      element.srcObject = stream;
      await element.play();
      while (!over) {
        const code = await read(element);
        if (code !== null && !over) {
          props.onCode(code);
          return;
        }
        await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
      }
    };
    const stop = () => {
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
    look()
      .catch(() => setFailed(true))
      .finally(stop);
    return () => {
      over = true;
      stop();
    };
  }, []);
  return (
    <div class="setup-scan">
      {failed ? (
        <p role="alert">{text.node.noCamera}</p>
      ) : (
        <>
          <p>{text.node.scanning}</p>
          <video ref={video} muted playsInline aria-label={text.node.scanning} />
        </>
      )}
      <button type="button" class="button" onClick={props.onStop}>
        {text.node.stopScan}
      </button>
    </div>
  );
}
