import { useEffect, useRef, useState } from "preact/hooks";
import { setupWords as text } from "../language/setup-words.ts";

/** The part of the Barcode Detection API that is used here; not every browser has it. */
interface Detector {
  detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
type DetectorClass = new (options: { formats: string[] }) => Detector;

function detectorClass(): DetectorClass | null {
  const found = (globalThis as { BarcodeDetector?: DetectorClass }).BarcodeDetector;
  return found ?? null;
}

/** True where this browser reads codes and lends its camera: both need https. */
export function canScan(): boolean {
  return detectorClass() !== null && navigator.mediaDevices?.getUserMedia !== undefined;
}

const LOOK_MS = 250;

/** The camera's picture until a code is found. */
export function CodeScanner(props: { onCode: (code: string) => void; onStop: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let over = false;
    let stream: MediaStream | null = null;
    const look = async () => {
      const Detector = detectorClass();
      if (!Detector) throw new Error("no detector");
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
      const element = video.current;
      if (over || !element) return stop();
      element.srcObject = stream;
      await element.play();
      const detector = new Detector({ formats: ["qr_code"] });
      while (!over) {
        const [code] = await detector.detect(element);
        if (code && !over) {
          props.onCode(code.rawValue);
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
