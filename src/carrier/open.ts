import type { Logger } from 'pino';
import type { Carrier } from '../desk/carrier.ts';
import { makeDemoToken } from './demo-token.ts';
import type { Loopback } from './loopback.ts';
import { loopbackCarrier } from './loopback.ts';
import { providerCarrier } from './provider.ts';

/** Of the settings, what the carrier's side needs. */
export interface CarrierSettings {
  readonly carrier: { readonly account: string; readonly token: string } | null;
  readonly deskNumber: string;
  readonly publicUrl: string;
  readonly dataDir: string;
}

export interface OpenCarrier {
  readonly carrier: Carrier;
  /** What its forms are signed with. */
  readonly token: string;
  /** The carrier again when it is the demo's, so that phones can listen to it; null for a real one. */
  readonly air: Loopback | null;
}

/** The carrier that the settings name. Without one: the demo's loopback, and a token of its own. */
export function openCarrier(settings: CarrierSettings, log: Logger): OpenCarrier {
  if (settings.carrier === null) {
    const air = loopbackCarrier(log);
    return { carrier: air, token: makeDemoToken(settings.dataDir), air };
  }
  const { publicUrl, deskNumber: from } = settings;
  const { account, token } = settings.carrier;
  return { carrier: providerCarrier({ account, token, from, publicUrl }, log), token, air: null };
}
