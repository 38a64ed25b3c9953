import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Sent } from '../carrier.ts';

/** How long a send that failed speaks against the desk; after it the carrier is asked anew. */
const FAILURE_COUNTS_FOR = 'PT15M';

/** What this process has seen of its own sends: enough to say whether the next is likely to work. */
export class SendHealth {
  readonly #lastFailedAt = new Map<'text' | 'call', Instant>();

  /** A number that takes no texts says nothing of the desk: only a refusal that may pass does. */
  note(by: 'text' | 'call', sent: Sent, at: Instant): void {
    if (sent.sent) this.#lastFailedAt.delete(by);
    else if (!sent.final) this.#lastFailedAt.set(by, at);
  }

  /** Whether the last text and the last call that say something of the desk worked, or are too long ago to say it. */
  seemsWell(now: Instant): boolean {
    return [...this.#lastFailedAt.values()].every((at) => after(at, FAILURE_COUNTS_FOR) < now);
  }
}
