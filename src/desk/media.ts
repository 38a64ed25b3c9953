import type { Carrier } from './carrier.ts';
import type { Records } from './records.ts';

/** The kinds of pictures that a browser may be shown: none of them can carry out anything. */
export type PictureType = 'image/jpeg' | 'image/png' | 'image/gif' | 'image/webp';
/** The kinds of spoken messages that a browser may play. */
export type SoundType = 'audio/mpeg' | 'audio/wav';

/** What the carrier keeps of a guest, as somebody is shown it now. */
export type Media<Type> =
  | { readonly shown: true; readonly type: Type; readonly bytes: Uint8Array }
  /** Why not, in words for whoever wanted it. */
  | { readonly shown: false; readonly why: string };

/** How files of a kind begin; null stands for any byte. */
type Beginnings<Type> = readonly (readonly [Type, readonly (number | null)[]])[];

/** Source: WHATWG, MIME Sniffing, 6.1 (image type patterns). */
const PICTURES: Beginnings<PictureType> = [
  ['image/jpeg', [0xff, 0xd8, 0xff]],
  ['image/png', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  ['image/gif', [0x47, 0x49, 0x46, 0x38, 0x37, 0x61]],
  ['image/gif', [0x47, 0x49, 0x46, 0x38, 0x39, 0x61]],
  ['image/webp', [0x52, 0x49, 0x46, 0x46, null, null, null, null, 0x57, 0x45, 0x42, 0x50, 0x56, 0x50]],
];

/** Source: WHATWG, MIME Sniffing, 6.2 (audio type patterns), and 6.2.3: MP3 without ID3 begins with a frame's sync. */
const SOUNDS: Beginnings<SoundType> = [
  ['audio/wav', [0x52, 0x49, 0x46, 0x46, null, null, null, null, 0x57, 0x41, 0x56, 0x45]],
  ['audio/mpeg', [0x49, 0x44, 0x33]],
  ['audio/mpeg', [0xff, 0xfb]],
  ['audio/mpeg', [0xff, 0xf3]],
];

/** What a file is by its first bytes, whatever it was called by whoever sent it; null for anything else. */
function typeOf<Type>(bytes: Uint8Array, beginnings: Beginnings<Type>): Type | null {
  const found = beginnings.find(([, begins]) => begins.every((byte, at) => byte === null || byte === bytes[at]));
  return found?.[0] ?? null;
}

export const pictureTypeOf = (bytes: Uint8Array): PictureType | null => typeOf(bytes, PICTURES);

/** Which picture of which entry, counted from 0. */
export interface PictureAsked {
  readonly entryId: number;
  readonly index: number;
}

/** Which spoken message of which callout, counted from 0. */
export interface MessageAsked {
  readonly calloutId: number;
  readonly index: number;
}

interface MediaParts {
  readonly records: Pick<Records, 'read'>;
  readonly carrier: Carrier;
}

/**
 * Fetches what the carrier keeps, now that somebody wants it: the records hold only where it is. Its bytes decide what it is
 * shown as, and what is of none of the kinds above is not shown at all.
 */
async function mediaAt<Type>(
  { carrier }: MediaParts,
  what: 'picture' | 'message',
  reference: string | undefined,
  beginnings: Beginnings<Type>,
): Promise<Media<Type>> {
  if (reference === undefined) return { shown: false, why: `There is no such ${what} any more.` };
  if (carrier.fetchMedia === undefined) {
    return { shown: false, why: `No phone company is connected that the ${what} could be fetched from.` };
  }
  const fetched = await carrier.fetchMedia(reference, what);
  if (!fetched.fetched) return { shown: false, why: fetched.why };
  const type = typeOf(fetched.bytes, beginnings);
  if (type === null) {
    return { shown: false, why: `What the guest sent is no ${what} that can be shown safely. Ask them.` };
  }
  return { shown: true, type, bytes: fetched.bytes };
}

export async function pictureOf(parts: MediaParts, { entryId, index }: PictureAsked): Promise<Media<PictureType>> {
  const entry = await parts.records.read((tx) => tx.entry(entryId));
  return mediaAt(parts, 'picture', entry?.media[index], PICTURES);
}

/** A message that a caller left, consenting to be recorded, for whoever takes the callout. */
export async function messageOf(parts: MediaParts, { calloutId, index }: MessageAsked): Promise<Media<SoundType>> {
  const recordings = await parts.records.read((tx) => tx.recordingsOf(calloutId));
  return mediaAt(parts, 'message', recordings[index]?.address, SOUNDS);
}
