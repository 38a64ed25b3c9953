import { userInfo } from 'node:os';

/** Who runs a command, for the note it leaves: the user of this machine, where it knows one. */
export function whoRunsThis(): string {
  try {
    return userInfo().username;
  } catch {
    return 'someone at this machine';
  }
}
