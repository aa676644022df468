import { writeFile } from "node:fs/promises";
import QRCode from "qrcode";

const WIDTH = 640;
const HEIGHT = 480;
const FRAMES = 4;
/** As somebody holds a card: tilted, farther on one side, in uneven light. */
const TILT_RAD = 0.2;
const SIDE_PX = 230;
const FARTHER = 0.12;

/** True where a point of a card (0 to 1 over the code, with its quiet zone outside) is dark. */
type Card = (x: number, y: number) => boolean;

/** The card of a code as the gateway draws its own. */
export function cardOf(text: string): Card {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: "M" });
  return (x, y) => {
    if (x < 0 || y < 0 || x >= 1 || y >= 1) return false;
    return modules.get(Math.floor(y * modules.size), Math.floor(x * modules.size)) === 1;
  };
}

/** Writes what a camera sees of a card as a Y4M file, which Chromium plays as its camera. */
export async function writeCameraPicture(path: string, card: Card): Promise<void> {
  const luma = Buffer.alloc(WIDTH * HEIGHT);
  let noise = 1;
  for (let row = 0; row < HEIGHT; row++) {
    for (let column = 0; column < WIDTH; column++) {
      const [across, down] = [column - WIDTH / 2, row - HEIGHT / 2];
      const scale = (SIDE_PX * (1 - FARTHER * (across / WIDTH))) | 0;
      const x = (across * Math.cos(TILT_RAD) + down * Math.sin(TILT_RAD)) / scale + 0.5;
      const y = (-across * Math.sin(TILT_RAD) + down * Math.cos(TILT_RAD)) / scale + 0.5;
      noise = (noise * 1_103_515_245 + 12_345) % 2_147_483_648;
      const light = 0.7 + (0.3 * column) / WIDTH;
      const grain = (noise / 2_147_483_648 - 0.5) * 24;
      luma[row * WIDTH + column] = Math.max(16, (card(x, y) ? 50 : 215) * light + grain);
    }
  }
  const chroma = Buffer.alloc((WIDTH * HEIGHT) / 2, 128);
  const frame = Buffer.concat([Buffer.from("FRAME\n"), luma, chroma]);
  const head = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420\n`);
  await writeFile(path, Buffer.concat([head, ...Array.from({ length: FRAMES }, () => frame)]));
}
