/** What the codecs of pictures take from a browser: Node has the one without its types, and lacks the other. */
declare namespace WebAssembly {
  class Module {}
  function compile(bytes: Uint8Array): Promise<Module>;
}

interface ImageData {
  readonly colorSpace: "srgb";
  readonly data: Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
}

declare var ImageData: new (data: Uint8ClampedArray, width: number, height: number) => ImageData;
