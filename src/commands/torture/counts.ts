import type { Trial } from './trial.ts';

/** How often each thing occurs: "3 clock 5 min, 2 disk full". */
function tally(names: readonly string[]): string {
  const counts = [...Map.groupBy(names, (name) => name)].map(([name, all]) => `${all.length} ${name}`);
  return counts.length === 0 ? 'nothing' : counts.join(', ');
}

/** What happened in a trial, in lines to read. */
export function countsOf({ log, seen }: Trial): readonly string[] {
  const guests = log.texts.filter(({ who }) => who === 'guest');
  const deliveries = guests.flatMap((text) => text.deliveries);
  const answered = guests.filter((text) => text.deliveries.some(({ answer }) => answer !== null));
  const safe = guests.filter((text) =>
    text.deliveries.some(({ answer }) => answer !== null && answer.entryId === null && answer.reply !== null),
  );
  const taken = log.handed.filter((each) => each.taken);
  const twice = [...Map.groupBy(taken, ({ work }) => work)].filter(([work, all]) => work !== 0 && all.length > 1);
  const texts = taken.filter(({ what }) => what === 'text').length;
  return [
    `done to it   ${tally(log.disturbances.map(({ what }) => what))}`,
    `texts        ${guests.length} written, ${deliveries.length} times brought, ${answered.length} answered, ${safe.length} with the safe reply, ${guests.length - answered.length} given up by the carrier`,
    `sent         ${texts} texts and ${taken.length - texts} calls; ${twice.length} more than once, each in doubt`,
    `callouts     ${seen.callouts.length} (${tally(seen.callouts.map(({ urgency, status }) => `${urgency} ${status}`))})`,
  ];
}
