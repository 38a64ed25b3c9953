import { textParts } from '../../care/text-parts.ts';
import { LANGUAGES, SIGNS } from '../../words/heard.ts';
import { sayEmergency } from '../emergency.ts';
import { areKnown, needsOf } from '../needs.ts';
import { sayStep } from '../say.ts';
import { forPhone } from '../for-phone.ts';
import { LONGEST, STRANGER } from '../profiles.ts';
import type { Finding, WordingRule } from './finding.ts';

const STEP_PARTS = 2;
const EMERGENCY_PARTS = 3;

/** Each step fits two text parts in each language, with the longest values the records allow. */
export const stepsFit: WordingRule = (read, flows) =>
  [...flows.steps].flatMap(([where, step]): Finding[] =>
    LANGUAGES.flatMap((lang) => {
      if (step.says === 'emergency' || !areKnown(needsOf(step), LONGEST)) return [];
      const { parts, units, alphabet } = textParts(forPhone(sayStep(step, lang, LONGEST, read.book), lang));
      if (parts <= STEP_PARTS) return [];
      const message = `${lang}: ${parts} text parts (${units} units, ${alphabet}); at most ${STEP_PARTS}`;
      return [{ rule: 'length', where, message, path: [] }];
    }),
  );

/** An emergency reply fits three text parts, for each sign and each pair of signs, with the longest place and with none. */
export const emergencyFits: WordingRule = (read) =>
  LANGUAGES.flatMap((lang) =>
    SIGNS.flatMap((sign) =>
      [LONGEST, STRANGER].flatMap((facts): Finding[] => {
        const words = forPhone(sayEmergency(read.book, lang, [sign], facts), lang);
        const { parts, units, alphabet } = textParts(words);
        const first = words.split(/(?<=[.!?])\s/)[0] ?? '';
        const place = facts.address === null || (words.includes(facts.address) && words.includes(facts.room ?? ''));
        const where = `emergency.yaml, ${sign}`;
        const finding = (message: string): Finding => ({
          rule: 'emergency',
          where,
          message: `${lang}: ${message}`,
          path: [],
        });
        return [
          ...(parts <= EMERGENCY_PARTS ? [] : [finding(`${parts} text parts (${units} units, ${alphabet})`)]),
          ...(first.includes(facts.emergencyNumber) ? [] : [finding('the first sentence lacks the emergency number')]),
          ...(place ? [] : [finding('the address or the room is missing')]),
        ];
      }),
    ),
  );
