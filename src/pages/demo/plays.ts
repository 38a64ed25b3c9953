/** What a guest of the demo says when a button plays them: each on a phone of its own, so that plays do not mix. */
export interface Play {
  readonly name: string;
  readonly phone: string;
  readonly says: readonly string[];
}

export const PLAYS: Readonly<Record<string, Play>> = {
  outlet: {
    name: 'A switched outlet at 2 a.m.',
    phone: '+19705550101',
    says: [
      "it won't stop beeping",
      'one long tone',
      'moved it to the other wall, just one short beep now',
      'thank you!!',
    ],
  },
  lid: {
    name: 'A lid on crooked',
    phone: '+19705550107',
    says: ['the botle lid is on croked and wont screw down strait', 'yes bubbles now'],
  },
  lips: {
    name: 'Blue lips',
    phone: '+19705550103',
    says: ['my husbands lips are blue and hes hard to wake'],
  },
};
