import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

/** Pixels in rows from the top left, four bytes each: red, green, blue, opacity. */
export interface Pixels {
  width: number;
  height: number;
  data: Uint8ClampedArray;
}

interface Codec {
  decode(bytes: Buffer): Promise<Pixels>;
  encode(pixels: Pixels): Promise<Uint8Array>;
}

/** Of 100: below it flat walls show steps. */
const quality = 80;

/** What is wrong with a picture is said by the command, with the name of its file. */
const silent = { print() {}, printErr() {} };

/** The codecs are WebAssembly: the same bytes on every machine, and in no process that has no pictures. */
const codecs: Record<"jpeg" | "png", () => Promise<Codec>> = {
  jpeg: once(async () => {
    const [decoder, encoder] = await Promise.all([
      import("@jsquash/jpeg/decode.js"),
      import("@jsquash/jpeg/encode.js"),
    ]);
    await decoder.init({
      ...silent,
      wasmBinary: ownBuffer(wasm("@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm")),
    });
    await encoder.init({
      ...silent,
      wasmBinary: ownBuffer(wasm("@jsquash/jpeg/codec/enc/mozjpeg_enc.wasm")),
    });
    return {
      decode: (bytes) => decoder.default(ownBuffer(bytes)),
      encode: async (pixels) => new Uint8Array(await encoder.default(imageData(pixels), { quality })),
    };
  }),
  png: once(async () => {
    const [decoder, encoder] = await Promise.all([
      import("@jsquash/png/decode.js"),
      import("@jsquash/png/encode.js"),
    ]);
    const module = await WebAssembly.compile(wasm("@jsquash/png/codec/pkg/squoosh_png_bg.wasm"));
    await decoder.init(module);
    await encoder.init(module);
    return {
      decode: (bytes) => decoder.default(ownBuffer(bytes)),
      encode: async (pixels) => new Uint8Array(await encoder.default(imageData(pixels))),
    };
  }),
};

export function codecOf(kind: "jpeg" | "png"): Promise<Codec> {
  return codecs[kind]();
}

/** Loaded once, and anew after a fault, which may leave a codec as it should not be. */
function once(make: () => Promise<Codec>): () => Promise<Codec> {
  let made: Promise<Codec> | null = null;
  return async () => {
    // What the codecs hand back is of a browser's own kind, which Node has not.
    (globalThis as { ImageData?: typeof ImageData }).ImageData ??= BareImageData;
    made ??= make();
    const codec = await made;
    return {
      ...codec,
      decode: (bytes) =>
        codec.decode(bytes).catch((fault: unknown) => {
          made = null;
          throw fault;
        }),
    };
  };
}

class BareImageData implements ImageData {
  readonly colorSpace = "srgb";
  readonly data: Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
  constructor(data: Uint8ClampedArray, width: number, height: number) {
    this.data = data;
    this.width = width;
    this.height = height;
  }
}

function imageData({ data, width, height }: Pixels): ImageData {
  return new BareImageData(data, width, height);
}

function wasm(path: string): Buffer {
  return readFileSync(createRequire(import.meta.url).resolve(path));
}

/** The bytes in a buffer that holds nothing else. */
function ownBuffer(bytes: Buffer): ArrayBuffer {
  return bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer;
}
