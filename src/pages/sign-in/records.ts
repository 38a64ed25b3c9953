import type { Person } from '../../roster/roster.ts';
import type { Instant } from '../../time/instant.ts';

/** What sign-in asks of the records. Of tokens only hashes come here. */
export interface SignInRecords {
  /** What addresses and forms are sealed with; made at the first call, the same from then on. */
  secret(): Promise<string>;
  /** The person with a phone and the hash of their password; null where there is none, or they have left. */
  account(phone: string): Promise<{ readonly person: Person; readonly password: string | null } | null>;
  /** Owners who can not sign in yet. */
  ownersWithoutPassword(): Promise<readonly Person[]>;

  /** Makes a one-time link for a person; earlier ones of theirs end. */
  addPasswordLink(link: {
    readonly tokenHash: string;
    readonly personId: number;
    readonly endsAt: Instant;
  }): Promise<void>;
  /** Whose link it is; null when it was used, has ended or never was. */
  passwordLink(tokenHash: string, now: Instant): Promise<Person | null>;
  /**
   * Uses the link up and sets the password; every session of the person ends. Null when the link does not stand.
   */
  usePasswordLink(tokenHash: string, password: string, now: Instant): Promise<Person | null>;

  beginSession(session: {
    readonly tokenHash: string;
    readonly personId: number;
    readonly begunAt: Instant;
    readonly endsAt: Instant;
  }): Promise<void>;
  /** Who is signed in with it; null when it has ended, or they have left. */
  session(tokenHash: string, now: Instant): Promise<Person | null>;
  endSession(tokenHash: string): Promise<void>;
  endSessionsOf(personId: number): Promise<void>;

  /** Counts a try and gives how many there were since, this one included. */
  noteTry(account: string, at: Instant, since: Instant): Promise<number>;
  forgetTries(account: string): Promise<void>;
}
