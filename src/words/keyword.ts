import type { Keyword } from './heard.ts';
import type { Reading } from './reading.ts';

/** A carrier word that is the whole message. "stop the beeping" is no opt-out. */
export function hearKeyword(reading: Reading): Keyword | null {
  const whole = wholeMessage(reading);
  return whole === undefined ? null : whole.name.startsWith('help') ? 'help' : (whole.name as Keyword);
}

/** True for HELP and its kin alone, which are heard as danger to ask about; INFO is not. */
export function readHelpKeyword(reading: Reading): boolean {
  return wholeMessage(reading)?.name === 'help';
}

function wholeMessage(reading: Reading): { name: string } | undefined {
  return reading.found.find(
    (one) => one.section === 'keywords' && one.start === 0 && one.end === reading.tokens.length,
  );
}
