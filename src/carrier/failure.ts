/** What a log may hold of an error. */
export interface Failure {
  readonly type: string;
  readonly message: string;
  readonly code: string | null;
  readonly status: number | null;
  /** Places only, without the message that stands above them. */
  readonly stack: readonly string[];
}

/** Shorter texts ("2", "yes") would black out half of any message, and tell nothing about anyone. */
const HIDDEN_FROM = 4;

function field(error: object, name: string): unknown {
  return (error as Record<string, unknown>)[name];
}

/**
 * An error for the log. Nothing but the named fields is taken, because the carrier client's errors carry the request
 * with its credentials; long runs of digits (phone numbers) keep their last four, and `hidden` texts (a guest's words)
 * are blacked out of the message.
 */
export function failureOf(error: unknown, hidden: readonly string[] = []): Failure {
  if (!(error instanceof Error)) {
    return {
      type: typeof error,
      message: 'something was thrown that is no error',
      code: null,
      status: null,
      stack: [],
    };
  }
  const code = field(error, 'code');
  const status = field(error, 'status');
  // The carrier's client makes errors of answers, and an answer may lack a message.
  const said = field(error, 'message');
  const message = hidden
    .filter((text) => text.length >= HIDDEN_FROM)
    .reduce((shown, text) => shown.replaceAll(text, '[hidden]'), typeof said === 'string' ? said : '')
    .replaceAll(/\+?\d{3,}(\d{4})/g, '…$1');
  return {
    type: error.name,
    message,
    code: typeof code === 'string' || typeof code === 'number' ? String(code) : null,
    status: typeof status === 'number' ? status : null,
    stack: (error.stack ?? '')
      .split('\n')
      .filter((line) => /^\s+at /.test(line))
      .map((line) => line.trim()),
  };
}
