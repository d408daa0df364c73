// Makes of a picture what is kept of it: upright, no larger than a designer needs, without anything the
// camera wrote into it, and a small one for lists; names both by their bytes.
//
// The same text is a module for the page and, where the browser can draw there, the worker it starts, so
// that the page is never held up. Elsewhere the page does it itself, in steps between which it can answer.

// Longest sides in pixels.
const LARGE = 2048;
const SMALL = 320;
// More pixels than this would cost the page its memory.
const MOST_PIXELS = 100e6;
// A worker that has not answered by then never will.
const PATIENCE_MS = 60_000;
// Rows of the large picture that the page draws at a time.
const STEP = 256;

const onPage = typeof document !== "undefined";

function canvas(width, height) {
  if (typeof OffscreenCanvas === "function") return new OffscreenCanvas(width, height);
  return Object.assign(document.createElement("canvas"), { width, height });
}

function jpeg(from, quality) {
  if (from.convertToBlob) return from.convertToBlob({ type: "image/jpeg", quality });
  return new Promise((done, wrong) =>
    from.toBlob((blob) => (blob ? done(blob) : wrong(Error("it could not be written"))), "image/jpeg", quality),
  );
}

// Scaled down, never up, onto white: what is seen through stays readable.
async function drawn(picture, side) {
  const scale = Math.min(1, side / Math.max(picture.width, picture.height));
  const [width, height] = [picture.width, picture.height].map((x) => Math.max(1, Math.round(x * scale)));
  const to = canvas(width, height);
  const pen = to.getContext("2d");
  if (!pen) throw Error("no drawing surface");
  pen.imageSmoothingQuality = "high";
  pen.fillStyle = "#ffffff";
  const step = onPage ? STEP : height;
  for (let top = 0; top < height; top += step) {
    pen.save();
    pen.beginPath();
    pen.rect(0, top, width, step);
    pen.clip();
    pen.fillRect(0, 0, width, height);
    pen.drawImage(picture, 0, 0, width, height);
    pen.restore();
    if (onPage) await new Promise((turn) => setTimeout(turn));
  }
  return to;
}

async function named(blob) {
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await blob.arrayBuffer()));
  return Array.from(sum, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function made(file, keep) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" }).catch(() => {
    throw Error("this browser cannot read it as a picture");
  });
  let large;
  let small;
  try {
    if (picture.width * picture.height > MOST_PIXELS) throw Error("it has more than 100 megapixels");
    large = await drawn(picture, LARGE);
    picture.close();
    small = await drawn(large, SMALL);
    const [kept, thumbnail] = await Promise.all([jpeg(large, 0.85), jpeg(small, 0.8)]);
    // A copy of the bytes: a picked file is only a pointer to a file that may change or go.
    const original = keep ? new Blob([await file.arrayBuffer()], { type: file.type }) : null;
    return [await named(kept), kept, thumbnail, original && (await named(original)), original];
  } finally {
    picture.close();
    // The memory of a canvas goes with its size, not when somebody sweeps up.
    for (const used of [large, small]) if (used) used.width = used.height = 0;
  }
}

// What prepares pictures one after the other: called with a file and whether to keep it, it gives the
// picture's name, the picture, the small one, and the original's name and bytes if kept; called without,
// it gives everything back.
export function studio() {
  let worker = typeof OffscreenCanvas === "function" ? new Worker(swingtie.script(import.meta.url), { type: "module" }) : null;
  return async (file, keep) => {
    if (!file) return worker?.terminate();
    if (!worker) return made(file, keep);
    const answer = await new Promise((done) => {
      worker.onmessage = (event) => done(event.data);
      worker.onerror = (event) => {
        event.preventDefault();
        done(null);
      };
      setTimeout(() => done(null), PATIENCE_MS);
      worker.postMessage({ file, keep });
    });
    if (answer?.result) return answer.result;
    if (answer && !answer.cannot) throw Error(answer.wrong);
    // This browser's workers cannot do it: the page can.
    worker.terminate();
    worker = null;
    return made(file, keep);
  };
}

if (!onPage) {
  addEventListener("message", async ({ data: { file, keep } }) => {
    try {
      postMessage({ result: await made(file, keep) });
    } catch (error) {
      // A worker without a pen is no fault of the picture.
      postMessage({ wrong: String(error?.message ?? error), cannot: error?.message === "no drawing surface" });
    }
  });
}
