import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ownFolder } from '../carrier/desk-on-a-port.ts';
import { run } from './run.ts';

const ROW = ',Jory Fenn,(970) 555-0131,Marlstone Lodge,205,NB-01,2027-01-02,2027-01-05,1,,,,,,,,,';

async function fileOf(name: string, content: string | Uint8Array): Promise<{ folder: string; file: string }> {
  const folder = await ownFolder();
  const file = join(folder, name);
  await writeFile(file, content);
  return { folder, file };
}

test('from the template to a rental: what would change, then the change', async () => {
  const { stdout: template, stderr: help } = await run('import', '/nowhere', '--template', 'rentals');
  expect(help).toMatch(/\* first_day +the day it is brought.*Allowed: a date/);
  const { folder, file } = await fileOf('rentals.csv', `${template}${ROW}\n`);

  const looked = await run('import', folder, file);
  expect(looked.stdout).toMatch(/^new +rental of Jory Fenn, unit NB-01\n1 new, 0 changed/);
  expect(looked.stdout).toMatch(/Nothing is changed yet: add --apply/);

  expect((await run('import', folder, '--apply', file)).stdout).toMatch(/^new .*\n1 new.*\nTaken over\./);
});

test('with something wrong it names the place, changes nothing and ends with 1', async () => {
  const { folder, file } = await fileOf(
    'rentals.csv',
    `guest,phones,property,room,unit,first_day,last_day,fragle\nJory,(970) 555-0131,x,1,y,2027-01-02,2027-01-02,yes\n`,
  );
  const { stdout, code } = await run('import', folder, '--apply', file);
  expect(stdout).toMatch(/rentals\.csv:1:8: "fragle" is not a column of rentals; allowed: .*fragile/);
  expect(stdout).toMatch(/1 thing is wrong; nothing is changed\./);
  expect(code).toBe(1);
});

test('a file with letters of another encoding is refused rather than read wrong', async () => {
  const { folder, file } = await fileOf('people.csv', Buffer.from('name,phone\nJos\u00e9,(970) 555-0131\n', 'latin1'));
  const { stderr, code } = await run('import', folder, file);
  expect(stderr).toMatch(/people\.csv is not UTF-8: save it .* as "CSV UTF-8"/);
  expect(code).toBe(1);
});

test('a column map with a column that is none is refused with its line', async () => {
  const { folder, file } = await fileOf('map.yaml', 'dates: month/day/year\nrentals:\n  gest: Name\n');
  const { stderr, code } = await run('import', folder, '--map', file, file);
  expect(stderr).toMatch(/map\.yaml:3:3: rentals: "gest" is not a key/);
  expect(code).toBe(1);
});
