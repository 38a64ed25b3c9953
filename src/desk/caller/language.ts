import type { Instant } from '../../time/instant.ts';
import type { Language } from '../../words/heard.ts';
import type { GuestPhone, Tx } from '../records.ts';

/** The language to begin a call in: the phone's; else that of another phone of the rental; else English. */
export async function languageOfCaller(tx: Tx, guest: GuestPhone, now: Instant): Promise<Language> {
  if (guest.lang !== null) return guest.lang;
  for (const { rentalId } of await tx.staysOf(guest.phone, now)) {
    for (const phone of await tx.phonesOf(rentalId)) {
      const { lang } = await tx.lockPhone(phone);
      if (lang !== null) return lang;
    }
  }
  return 'en';
}

/** Keeps the language that was chosen by key, for the phone and for the whole rental. */
export async function rememberLanguage(tx: Tx, phone: string, rentalId: number | null, lang: Language): Promise<void> {
  const phones = new Set([phone, ...(rentalId === null ? [] : await tx.phonesOf(rentalId))]);
  for (const each of phones) await tx.savePhone({ ...(await tx.lockPhone(each)), lang });
}

export const otherLanguage = (lang: Language): Language => (lang === 'en' ? 'es' : 'en');
