import { openRecordsOf } from '../open-records.ts';
import { phoneOf } from '../reading/phone.ts';
import { newPasswordLink } from '../pages/sign-in/tokens.ts';
import { signInRecordsOn } from '../records/page-sign-in.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { instantOfMs } from '../time/instant.ts';

const USAGE = `npm run password-link -- [PHONE]
Prints a one-time link with which someone of the roster sets a new password; without a phone, the owner. It lasts a day;
an earlier link of theirs no longer opens.`;

async function printLink(phone: string | null): Promise<string> {
  const settings = settingsFrom(process.env);
  const now = instantOfMs(Date.now());
  const records = await openRecordsOf({ settings, now: () => now });
  try {
    const { people } = await records.read((tx) => tx.roster());
    const person = people.find((each) => (phone === null ? each.role === 'owner' : each.phone === phone));
    if (person === undefined) {
      const known = people.map(({ name }) => name).join(', ');
      throw new SettingsError([
        `Nobody on the roster has that phone. There are ${known}; npm run roster enters people`,
      ]);
    }
    const path = await newPasswordLink(signInRecordsOn(records), person.id, now);
    return `For ${person.name}, once, within a day:\n  ${settings.publicUrl}${path}`;
  } finally {
    await records.close();
  }
}

const [written, ...more] = process.argv.slice(2);
const phone = written === undefined ? null : phoneOf(written);
if (more.length > 0 || (written !== undefined && phone === null)) {
  console.error(USAGE);
  process.exitCode = 1;
} else {
  try {
    console.log(await printLink(phone));
  } catch (error) {
    if (!(error instanceof SettingsError)) throw error;
    console.error(error.message);
    process.exitCode = 1;
  }
}
