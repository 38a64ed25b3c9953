import type { OutboundCall, OutboundText } from '../../src/desk/carrier.ts';
import type { Air } from '../../src/pages/demo/phones.ts';
import { pocketCarrier } from '../desk/pocket-carrier.ts';
import type { PocketCarrier } from '../desk/pocket-carrier.ts';

/** The pocket carrier, with phones that hear it. */
export function audibleCarrier(): PocketCarrier & Air {
  const pocket = pocketCarrier();
  const texts: ((text: OutboundText) => void)[] = [];
  const calls: ((call: OutboundCall) => void)[] = [];
  return {
    ...pocket,
    onText: (listener) => (texts.push(listener), () => {}),
    onCall: (listener) => (calls.push(listener), () => {}),
    sendText(text) {
      for (const listener of texts) listener(text);
      return pocket.sendText(text);
    },
    placeCall(call) {
      for (const listener of calls) listener(call);
      return pocket.placeCall(call);
    },
  };
}
