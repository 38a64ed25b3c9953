import { seeOther } from './answer.ts';
import type { Answer } from './answer.ts';
import type { Visit } from './visit.ts';

/** Everyone's first sheet. Someone who tries the demo begins with its phone. */
export async function home({ person, side }: Visit): Promise<Answer> {
  if (person === null) return seeOther(side.demo === null ? '/sign-in' : '/demo');
  return seeOther(person.role === 'owner' ? '/night' : '/callouts');
}
