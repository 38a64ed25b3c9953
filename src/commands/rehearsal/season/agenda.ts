import { after, msOf } from '../../../time/instant.ts';
import type { Instant } from '../../../time/instant.ts';
import type { DemoDesk } from '../../demo-desk.ts';

const DESK_NUMBER = '+19705550100';
/** How soon a technician takes a callout, and how long they are there. Made up. */
const TAKES_AFTER = 'PT2M';
const IS_THERE_FOR = 'PT45M';

interface Appointment {
  readonly at: Instant;
  act(): Promise<void>;
}

/** The clock of a season: lets time pass up to an instant, while technicians take callouts and close them in between. */
export class Agenda {
  readonly #demo: DemoDesk;
  readonly #seen = new Set<string>();
  #due: Appointment[] = [];
  #texts = 0;

  constructor(demo: DemoDesk) {
    this.#demo = demo;
    demo.carrier.onText(({ to, body }) => {
      const [, id] = /Reply TAKE (\d+)/.exec(body) ?? [];
      if (id === undefined || this.#seen.has(id)) return;
      this.#seen.add(id);
      this.#meet(TAKES_AFTER, async () => {
        await this.#text(to, `TAKE ${id}`);
        this.#meet(IS_THERE_FOR, () => this.#text(to, `DONE ${id} looked after it`));
      });
    });
  }

  #meet(wait: string, act: () => Promise<void>): void {
    this.#due.push({ at: after(this.#demo.now(), wait), act });
  }

  async #text(from: string, text: string): Promise<void> {
    this.#texts += 1;
    await this.#demo.desk.receive({ id: `technician-${this.#texts}`, from, to: DESK_NUMBER, text, media: [] });
    await this.#demo.doDue();
  }

  async #passTo(at: Instant): Promise<void> {
    const ms = msOf(at) - msOf(this.#demo.now());
    if (ms > 0) await this.#demo.pass(`PT${ms / 1000}S`);
  }

  /** Goes on to an instant; what technicians have to do before it is done at its own time. */
  async goTo(until: Instant): Promise<void> {
    for (;;) {
      const next = this.#due.toSorted((a, b) => (a.at < b.at ? -1 : 1))[0];
      if (next !== undefined && next.at <= until) {
        this.#due = this.#due.filter((each) => each !== next);
        await this.#passTo(next.at);
        await next.act();
      } else if (await this.#nothingRings(until)) return;
    }
  }

  /** Passes on to the instant, or to a minute after something rang on the way. */
  async #nothingRings(until: Instant): Promise<boolean> {
    const before = this.#due.length;
    const nextDue = await this.#demo.records.nextDueAt();
    const step = nextDue !== null && nextDue < until ? nextDue : until;
    await this.#passTo(step);
    await this.#demo.doDue();
    return step === until && this.#due.length === before;
  }
}
