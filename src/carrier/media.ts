import type { Logger } from 'pino';
import type { FetchedMedia } from '../desk/carrier.ts';
import { failureOf } from './failure.ts';

/** Where the provider keeps what came with texts and what callers left. */
const KEPT_AT = 'https://api.twilio.com';
/** More than a text can carry (5 MB, the provider's limit, from memory), and less than would hurt the desk. */
const LARGEST_BYTES = 8 * 1024 * 1024;

const no = (why: string): FetchedMedia => ({ fetched: false, why });

/** A reference leads to the provider's own store of this account, or nowhere: credentials go along. */
function isOwn(reference: string, account: string): boolean {
  if (!URL.canParse(reference)) return false;
  const { origin, pathname, username, password } = new URL(reference);
  const kept = ['Messages', 'Recordings'].some((kind) =>
    pathname.startsWith(`/2010-04-01/Accounts/${account}/${kind}/`),
  );
  return origin === KEPT_AT && username === '' && password === '' && kept;
}

async function bytesOf(response: Response): Promise<Uint8Array | null> {
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of response.body ?? []) {
    size += part.length;
    if (size > LARGEST_BYTES) return null;
    parts.push(part);
  }
  return Buffer.concat(parts);
}

/** The provider's own address is asked with credentials; where it sends on to, once, is asked without them. */
async function ask(reference: string, credentials: string, signal: AbortSignal): Promise<Response> {
  const first = await fetch(reference, { headers: { Authorization: credentials }, redirect: 'manual', signal });
  const onward = first.headers.get('location');
  if (first.status < 300 || first.status >= 400 || onward === null) return first;
  const next = new URL(onward, reference);
  return next.protocol === 'https:' ? fetch(next, { redirect: 'error', signal }) : first;
}

/** Fetches media from the provider with the owner's credentials. */
export async function fetchMedia(
  { account, token }: { readonly account: string; readonly token: string },
  { reference, what }: { readonly reference: string; readonly what: 'picture' | 'message' },
  log: Logger,
  timeoutMs: number,
): Promise<FetchedMedia> {
  if (!isOwn(reference, account)) {
    log.warn({ what }, 'media were not fetched: their reference does not lead to this account');
    return no(`The ${what} is not kept where this desk may fetch it.`);
  }
  const basic = Buffer.from(`${account}:${token}`).toString('base64');
  try {
    const response = await ask(reference, `Basic ${basic}`, AbortSignal.timeout(timeoutMs));
    if (response.status === 404 || response.status === 410) return no(`The phone company no longer has the ${what}.`);
    if (!response.ok) {
      log.error({ what, status: response.status }, 'the carrier did not give what it keeps');
      return no(`The phone company did not give the ${what}. Try once more, or ask the guest.`);
    }
    const bytes = await bytesOf(response);
    return bytes === null ? no(`The ${what} is too large. Ask the guest about it.`) : { fetched: true, bytes };
  } catch (error) {
    log.error({ what, failure: failureOf(error, [token, basic, reference]) }, 'media could not be fetched');
    return no('The phone company cannot be reached. Try once more, or ask the guest.');
  }
}
