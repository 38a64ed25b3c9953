/** A guest's text with one picture, as the carrier's form has it. */
export const ONE_PICTURE = {
  NumMedia: '1',
  MediaUrl0: 'https://api.twilio.com/2010-04-01/Accounts/AC1/Messages/MM1/Media/ME1',
  MediaContentType0: 'image/png',
} as const;

/** The smallest that begins as a PNG does. */
export const A_PNG = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 1, 2, 3);
