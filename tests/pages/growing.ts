/** Tables that grow with every night. The others hold what an outfit has: people, places, flows. */
export const GROWING = [
  'conversations',
  'entries',
  'callouts',
  'callout_conversations',
  'callout_links',
  'offers',
  'work',
  'messages',
  'text_states',
  'guests',
  'rentals',
  'rental_phones',
  'marks',
  'sessions',
];
