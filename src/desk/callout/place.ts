import type { Property, Stay } from '../property.ts';

/** What is known of the place that a conversation or a callout is about. */
export interface CalloutPlace {
  readonly stay: Stay | null;
  readonly property: Property | null;
}
