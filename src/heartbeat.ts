/** A heartbeat: something outside is told each minute that the desk can send, so that it notices when nothing comes. */
export interface Heartbeat {
  stop(): void;
}

export interface HeartbeatParts {
  /** Asked for by GET; null asks for nothing, and the desk still looks whether it could send. */
  readonly address: string | null;
  readonly canSend: () => Promise<boolean>;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
  /** Between beats, ms. @defaultValue a minute */
  readonly everyMs?: number;
}

const EVERY_MS = 60_000;
const ANSWER_WITHIN_MS = 10_000;

/** One beat: silent unless the desk can send. False when nobody was told. */
export async function beat({ address, canSend, note }: HeartbeatParts): Promise<boolean> {
  try {
    if (!(await canSend())) {
      note('no heartbeat: the desk cannot send', {});
      return false;
    }
    if (address === null) return false;
    const answer = await fetch(address, { signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
    await answer.body?.cancel();
    if (!answer.ok) note('the heartbeat’s address refused it', { status: answer.status });
    return answer.ok;
  } catch (error) {
    note('the heartbeat did not get through', { error });
    return false;
  }
}

/** Beats each minute until it is stopped; one that takes longer lets the next one pass. */
export function startHeartbeat(parts: HeartbeatParts): Heartbeat {
  let beating = false;
  const timer = setInterval(() => {
    if (beating) return;
    beating = true;
    void beat(parts).finally(() => {
      beating = false;
    });
  }, parts.everyMs ?? EVERY_MS);
  timer.unref();
  return { stop: () => clearInterval(timer) };
}
