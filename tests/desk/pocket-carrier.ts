import type { Carrier, OutboundCall, OutboundText } from '../../src/desk/carrier.ts';

/** A carrier whose texts stay in its pocket, and which can be told whom it cannot reach. */
export interface PocketCarrier extends Carrier {
  readonly sent: OutboundText[];
  /** Calls that were placed, oldest first. Whether anyone answers is up to the test. */
  readonly calls: OutboundCall[];
  /** Phones that it refuses for good. */
  readonly unreachable: Set<string>;
  /** Phones that it does not take a text for now, but may later. */
  readonly busy: Set<string>;
  /** What it keeps of pictures, by reference; each time one is fetched, `looks` is longer. */
  readonly media: Map<string, Uint8Array>;
  readonly looks: string[];
  /** What was sent to a phone, oldest first. */
  readonly textsTo: (phone: string) => readonly string[];
}

export function pocketCarrier({ reportsDelivery = false } = {}): PocketCarrier {
  const sent: OutboundText[] = [];
  const calls: OutboundCall[] = [];
  const unreachable = new Set<string>();
  const busy = new Set<string>();
  const media = new Map<string, Uint8Array>();
  const looks: string[] = [];
  return {
    reportsDelivery,
    sent,
    calls,
    unreachable,
    busy,
    media,
    looks,
    fetchMedia(reference, what) {
      looks.push(reference);
      const bytes = media.get(reference);
      if (bytes === undefined)
        return Promise.resolve({ fetched: false, why: `The phone company no longer has the ${what}.` });
      return Promise.resolve({ fetched: true, bytes });
    },
    textsTo: (phone) => sent.filter((text) => text.to === phone).map((text) => text.body),
    placeCall(call) {
      if (busy.has(call.to)) return Promise.resolve({ sent: false, final: false, code: '20429' });
      calls.push(call);
      return Promise.resolve({ sent: true, providerId: `CA-out-${call.workId}` });
    },
    sendText(text) {
      if (unreachable.has(text.to)) return Promise.resolve({ sent: false, final: true, code: '21610' });
      if (busy.has(text.to)) return Promise.resolve({ sent: false, final: false, code: '20429' });
      sent.push(text);
      return Promise.resolve({ sent: true, providerId: `SM-out-${text.workId}` });
    },
  };
}
