// Photos: what the book says of them. The picture itself is asked for by its name, since it stands outside the book.

import type { Where } from './contract';

/** one photo of view `photos` */
export interface Photo {
  entry: string;
  /** SHA-256 of the picture, 64 hexadecimal digits */
  photo: string;
  says: string;
  at: string;
  by: string;
  where: Where;
}

/** what a photo shows: a batch at a stage, or the page of a formula */
export type PhotoOf = { batch: string; stage: '' | 'bench' | 'filled' | 'look' } | { formula: string };

export interface PhotoViews {
  photos: { args: { batch?: string; formula?: string }; value: Photo[] };
}

export interface PhotoCommands {
  'photo.keep': { args: PhotoOf & { photo: string; bytes: number; width: number; height: number; text: string }; value: { entry: string } };
}
