import type { Logger } from 'pino';
import type { Carrier } from '../desk/carrier.ts';
import { makeDemoToken } from './demo-token.ts';
import { loopbackCarrier } from './loopback.ts';
import { providerCarrier } from './provider.ts';

/** Of the settings, what the carrier's side needs. */
export interface CarrierSettings {
  readonly carrier: { readonly account: string; readonly token: string } | null;
  readonly deskNumber: string;
  readonly publicUrl: string;
  readonly dataDir: string;
}

/**
 * The carrier that the settings name, and the token its forms are signed with. Without one: the demo's loopback, and a
 * token of its own.
 */
export function openCarrier(settings: CarrierSettings, log: Logger): { carrier: Carrier; token: string } {
  if (settings.carrier === null) return { carrier: loopbackCarrier(log), token: makeDemoToken(settings.dataDir) };
  const { publicUrl, deskNumber: from } = settings;
  const { account, token } = settings.carrier;
  return { carrier: providerCarrier({ account, token, from, publicUrl }, log), token };
}
