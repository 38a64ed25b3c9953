import type { Desk } from './desk/desk.ts';
import type { AddedWork } from './desk/records.ts';
import { isTextKind } from './desk/work-kinds.ts';
import type { OpenRecords } from './records/open.ts';
import type { Role, Settings } from './settings.ts';
import type { Instant } from './time/instant.ts';
import { startLoop } from './work/loop.ts';
import { paceOf } from './work/pace.ts';

/** What this process does about work: all of it, its share of it, or handing it to those who do it. */
export interface WorkHere {
  /** Something may be due now. */
  wake(): void;
  /** Rows were written, by a transaction that is committed. */
  added(rows: readonly AddedWork[]): void;
  /** Whether Redis takes work now; null where none is used. */
  redisReady(): boolean | null;
  /** Finishes what is in hand, hands back what takes too long, and begins nothing more. */
  stop(): Promise<void>;
}

export interface WorkHereParts {
  readonly settings: Settings;
  readonly role: Role;
  readonly records: OpenRecords;
  readonly desk: Pick<Desk, 'doWork' | 'lookAtClock'>;
  readonly now: () => Instant;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
}

/** Begins with what is due. Without `REDIS_URL` a loop does it; with it, whichever process is free. */
export async function startWorkHere(parts: WorkHereParts): Promise<WorkHere> {
  const { settings, role, records, desk, now, note } = parts;
  const worker = {
    table: records,
    doWork: (work: Parameters<Desk['doWork']>[0]) => desk.doWork(work),
    beforeClaiming: () => desk.lookAtClock(),
    holdBack: paceOf({ perSecond: settings.textsPerSecond, counts: isTextKind, now }),
    now,
    note,
  };
  const { redisUrl, redisPrefix: prefix } = settings;
  if (redisUrl === null) {
    const loop = startLoop(worker);
    return { wake: () => loop.wake(), added: () => {}, redisReady: () => null, stop: () => loop.stop() };
  }

  // Loaded only where Redis is used: an embedded desk has to be up soon.
  const { openHandover } = await import('./work/handover.ts');
  const { redisToAsk, redisToWait } = await import('./work/redis.ts');
  const { startDangerWatch, startSharedWork } = await import('./work/shared-work.ts');
  const handover = openHandover({ redis: redisToAsk(redisUrl, note), prefix, isPaced: isTextKind });
  const rounds =
    role === 'web'
      ? startDangerWatch(worker)
      : startSharedWork({
          ...worker,
          handover,
          redis: redisToWait(redisUrl, note),
          prefix,
          perSecond: settings.textsPerSecond,
        });
  return {
    // Rows are handed over as they are written.
    wake: () => {},
    added(rows) {
      const due = rows.filter(({ dueAt }) => dueAt <= now());
      // Those that Redis does not take are found by the next sweep: in this process at once, else in some seconds.
      handover.hand(due).catch(() => rounds.wake());
    },
    redisReady: () => handover.ready(),
    async stop() {
      await rounds.stop();
      await handover.close();
    },
  };
}
