// Reads QR codes in a picture, away from the page so that the camera's picture stays smooth.
// The reader's WASM is our own file: left alone the library would fetch it from a public network.

import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';

export interface ScanJob {
  id: number;
  /** a frame of the camera, already cut out, or a photo */
  picture: ImageData | Blob;
  /** true for a photo: time does not matter, so look harder */
  hard: boolean;
}

export interface ScanAnswer {
  id: number;
  texts: string[];
  trouble: string;
}

prepareZXingModule({ overrides: { locateFile: () => __ZXING_URL__ } });

async function read(job: ScanJob): Promise<string[]> {
  const found = await readBarcodes(job.picture, {
    formats: ['QRCode'],
    tryHarder: true,
    tryRotate: true,
    tryInvert: job.hard,
    tryDownscale: true,
    maxNumberOfSymbols: job.hard ? 8 : 1,
  });
  return found.filter((code) => code.isValid && code.text !== '').map((code) => code.text);
}

addEventListener('message', (event: MessageEvent<ScanJob>) => {
  const { id } = event.data;
  read(event.data).then(
    (texts) => postMessage({ id, texts, trouble: '' } satisfies ScanAnswer),
    (error: unknown) => postMessage({ id, texts: [], trouble: String(error) } satisfies ScanAnswer),
  );
});
