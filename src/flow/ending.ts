/** How a conversation can end. */
export const ENDINGS = ['emergency', 'see-a-clinician', 'technician', 'settled', 'information', 'gave-up'] as const;
export type Ending = (typeof ENDINGS)[number];
