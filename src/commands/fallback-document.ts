import { staticFallback } from '../carrier/static-fallback.ts';
import { SettingsError, settingsFrom } from '../settings.ts';

/** `npm run fallback-document`: prints the static answers to host on another server, made from the settings. */
try {
  const settings = settingsFrom(process.env);
  const documents = staticFallback({ ...settings, directPhone: settings.technicianPhone });
  console.log('For texts (save as text-fallback.xml):');
  console.log(documents.text);
  console.log('\nFor calls (save as voice-fallback.xml):');
  console.log(documents.voice);
  console.log(
    '\nServe them as text/xml from a server that does not depend on this one, and set their addresses as the',
  );
  console.log('fallback addresses of the desk number in the carrier’s console.');
} catch (error) {
  if (!(error instanceof SettingsError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
