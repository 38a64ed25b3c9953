import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { DatabaseSync } from 'node:sqlite';
import express from 'express';
import { pino } from 'pino';
import { requireSignature } from '../../carrier/signature.ts';
import { SIGNED_UNDER } from '../trials/program.ts';

/**
 * The yardstick of the bench, and a program of its own: the least that a webhook can do. It checks the same signature and
 * commits one row for each text, in a database with the same settings, so with the same disk flush. It says the same to
 * everyone and keeps nothing that a desk would need.
 */
const [file = ''] = process.argv.slice(2);
const database = new DatabaseSync(file);
database.exec('pragma journal_mode = wal; pragma synchronous = full');
database.exec('create table if not exists texts (id text primary key, phone text not null, words text not null)');
const keep = database.prepare('insert into texts (id, phone, words) values (?, ?, ?)');
const ANSWER = '<?xml version="1.0" encoding="UTF-8"?><Response><Message>We have your text.</Message></Response>';

const app = express();
app.use(express.urlencoded({ extended: false }), requireSignature(SIGNED_UNDER, pino({ level: 'warn' })));
app.post('/carrier/text', (request, response) => {
  const { MessageSid, From, Body } = request.body as Record<string, string>;
  keep.run(MessageSid ?? '', From ?? '', Body ?? '');
  response.type('text/xml').send(ANSWER);
});
const server = app.listen(0, '127.0.0.1');
await once(server, 'listening');
console.log(`http://127.0.0.1:${(server.address() as AddressInfo).port}`);
