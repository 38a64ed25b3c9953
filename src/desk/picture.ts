import type { Carrier } from './carrier.ts';
import type { Records } from './records.ts';

/** The kinds of pictures that a browser may be shown: none of them can carry out anything. */
export type PictureType = 'image/jpeg' | 'image/png' | 'image/gif' | 'image/webp';

export type Picture =
  | { readonly shown: true; readonly type: PictureType; readonly bytes: Uint8Array }
  /** Why not, in words for whoever wanted to see it. */
  | { readonly shown: false; readonly why: string };

/** How files of each kind begin; null stands for any byte. Source: WHATWG, MIME Sniffing, 6.1 (image type patterns). */
const BEGINNINGS: readonly (readonly [PictureType, readonly (number | null)[]])[] = [
  ['image/jpeg', [0xff, 0xd8, 0xff]],
  ['image/png', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  ['image/gif', [0x47, 0x49, 0x46, 0x38, 0x37, 0x61]],
  ['image/gif', [0x47, 0x49, 0x46, 0x38, 0x39, 0x61]],
  ['image/webp', [0x52, 0x49, 0x46, 0x46, null, null, null, null, 0x57, 0x45, 0x42, 0x50, 0x56, 0x50]],
];

/** What a file is by its first bytes, whatever it was called by whoever sent it; null for anything but a picture. */
export function pictureTypeOf(bytes: Uint8Array): PictureType | null {
  const found = BEGINNINGS.find(([, begins]) => begins.every((byte, at) => byte === null || byte === bytes[at]));
  return found?.[0] ?? null;
}

/** Which picture of which entry, counted from 0. */
export interface PictureAsked {
  readonly entryId: number;
  readonly index: number;
}

/**
 * Fetches a picture that a guest sent, now that somebody looks at it: the records keep only where it is. Its bytes decide
 * what it is shown as, and what is none of the pictures above is not shown at all.
 */
export async function pictureOf(
  { records, carrier }: { readonly records: Pick<Records, 'read'>; readonly carrier: Carrier },
  { entryId, index }: PictureAsked,
): Promise<Picture> {
  const entry = await records.read((tx) => tx.entry(entryId));
  const reference = entry?.media[index];
  if (reference === undefined) return { shown: false, why: 'There is no such picture any more.' };
  if (carrier.fetchMedia === undefined) {
    return { shown: false, why: 'No phone company is connected that the picture could be fetched from.' };
  }
  const fetched = await carrier.fetchMedia(reference);
  if (!fetched.fetched) return { shown: false, why: fetched.why };
  const type = pictureTypeOf(fetched.bytes);
  if (type === null)
    return { shown: false, why: 'What the guest sent is no picture that can be shown safely. Ask them.' };
  return { shown: true, type, bytes: fetched.bytes };
}
