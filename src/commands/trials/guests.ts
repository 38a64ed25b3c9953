/** What made-up guests write in a trial, one after the other. The words are those of the written conversations. */
const SCRIPTS: readonly (readonly string[])[] = [
  ["it won't stop beeping", 'one long tone', 'moved it to the other wall, just one short beep now', 'thank you!!'],
  [
    'teh machine keeps beepng every few secnds',
    'beep beep beep then a pause',
    'its all the way at the top',
    'yes it stoped',
  ],
  ['no watter left in the botle', 'yes we have distilled', 'yes its bubbling', 'ok thanks'],
  ['the botle lid is on croked and wont screw down strait', 'yes bubbles now', 'thanks'],
  ['el aparato no prende', 'un tono que no para', 'ahora un pitido corto', 'gracias'],
  ['water is getting into the tube', 'no', '2', 'yes'],
  ['how high should the ball be', 'thank you'],
];
/** One guest in so many is in danger: more than any night has, so that what danger costs is in the figures. */
const ONE_IN_DANGER_OF = 40;
const IN_DANGER: readonly string[] = ['my husbands lips are blue and hes breathing funny', 'yes theyre coming'];

/** Whether the guest of that number is in danger. */
export function isInDanger(guest: number, oneInDangerOf = ONE_IN_DANGER_OF): boolean {
  return guest % oneInDangerOf === oneInDangerOf - 1;
}

/** What the guest of that number writes. */
export function scriptOf(guest: number, oneInDangerOf = ONE_IN_DANGER_OF): readonly string[] {
  if (isInDanger(guest, oneInDangerOf)) return IN_DANGER;
  return SCRIPTS[guest % SCRIPTS.length] ?? IN_DANGER;
}

/** The phone of the guest of that number, E.164. Of no one: no area code begins with 0. */
export function phoneOfGuest(guest: number): string {
  return `+1000${String(guest).padStart(7, '0')}`;
}

/** The number of the guest who has that phone; null for other phones. */
export function guestOfPhone(phone: string): number | null {
  return /^\+1000\d{7}$/.test(phone) ? Number(phone.slice(5)) : null;
}
