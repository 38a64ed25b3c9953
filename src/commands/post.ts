import { randomBytes } from 'node:crypto';
import { parseArgs } from 'node:util';
import { demoToken } from '../carrier/demo-token.ts';
import { phoneOf } from '../reading/phone.ts';
import { postText } from '../carrier/signed-post.ts';
import { textsIn } from '../carrier/twiml.ts';
import { SettingsError, settingsFrom } from '../settings.ts';
import { Refusal, runCommand } from './run-command.ts';

const USAGE = `npm run post -- "text" [--from NUMBER] [--id MESSAGEID] [--url URL] [--forge]
Sends one signed text to the running desk and prints the reply.
  --from   the guest's number (+19705550101, a guest of the demo)
  --id     the carrier's message id; give one twice to see that it is answered once
  --url    where the desk listens (http://localhost:PORT)
  --forge  signs with a wrong token: the desk must refuse it`;

function read(words: string[]): { text: string; from: string; id: string; url: string | undefined; forge: boolean } {
  const { values, positionals } = parseArgs({
    args: words,
    allowPositionals: true,
    options: {
      from: { type: 'string', default: '+19705550101' },
      id: { type: 'string', default: `SM${randomBytes(16).toString('hex')}` },
      url: { type: 'string' },
      forge: { type: 'boolean', default: false },
    },
  });
  const [text] = positionals;
  if (text === undefined || positionals.length > 1) throw new Refusal(`Give one text, in quotes.\n\n${USAGE}`);
  // What is no phone number goes out as it is: refusing it is the desk's part, and worth seeing.
  return { ...values, text, from: phoneOf(values.from) ?? values.from, url: values.url };
}

async function post(words: string[]): Promise<void> {
  const { text, from, id, url, forge } = read(words);
  const settings = settingsFrom(process.env);
  const token = settings.carrier?.token ?? demoToken(settings.dataDir);
  if (token === null)
    throw new Refusal(`No demo token in ${settings.dataDir} yet: start the desk first, with npm start.`);

  const under = { token: forge ? `${token}-forged` : token, publicUrl: settings.publicUrl };
  const base = (url ?? `http://localhost:${settings.port}`).replace(/\/+$/, '');
  const sent = { id, from, to: settings.deskNumber, body: text };
  const response = await postText(base, under, sent).catch((error: unknown) => {
    throw new Refusal(`No desk answers at ${base}: start it with npm start, or give its address with --url.`, {
      cause: error,
    });
  });
  const answer = response.body;
  if (!response.ok) throw new Refusal(`The desk refused the text: ${response.status} ${answer.trim()}`);
  const texts = textsIn(answer);
  console.log(texts.length === 0 ? '(no reply)' : texts.join('\n\n'));
}

await runCommand(USAGE, [SettingsError], () => post(process.argv.slice(2)));
