/** Reads the QR code in a camera's picture; null where none is seen in it. */
export type CodeReader = (video: HTMLVideoElement) => Promise<string | null>;

/** The part of the Barcode Detection API that is used here. */
interface Detector {
  detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
interface DetectorClass {
  new (options: { formats: string[] }): Detector;
  getSupportedFormats(): Promise<readonly string[]>;
}

/**
 * The browser's own reader where it has one; most have none, on phones too: then a library does it,
 * fetched only now.
 */
export async function codeReader(): Promise<CodeReader> {
  return (await ownReader()) ?? libraryReader();
}

async function ownReader(): Promise<CodeReader | null> {
  const Own = (globalThis as { BarcodeDetector?: DetectorClass }).BarcodeDetector;
  // It may be there without a service behind it, and then knows no format.
  const formats = await Own?.getSupportedFormats().catch((): readonly string[] => []);
  if (!Own || !formats?.includes("qr_code")) return null;
  const detector = new Own({ formats: ["qr_code"] });
  return async (video) => (await detector.detect(video))[0]?.rawValue ?? null;
}

async function libraryReader(): Promise<CodeReader> {
  const { decodeQR } = await import("qr/decode.js");
  const canvas = document.createElement("canvas");
  const context = canvas.getContext("2d", { willReadFrequently: true });
  if (!context) throw new Error("no canvas to read the camera's picture from");
  return async (video) => {
    const { videoWidth: width, videoHeight: height } = video;
    if (width === 0 || height === 0) return null;
    canvas.width = width;
    canvas.height = height;
    context.drawImage(video, 0, 0);
    try {
      return decodeQR(context.getImageData(0, 0, width, height));
    } catch {
      // How the library says that it saw none in this picture.
      return null;
    }
  };
}
