import { ownCalloutsPage } from './callout/own-callouts-page.ts';
import { actOnCallout, calloutLive, calloutPage } from './callout/callout-page.ts';
import { demoLive, demoPage, demoPlay, demoPress, demoText } from './demo/demo-page.ts';
import { flowPage } from './flows/flow-page.ts';
import { checkFlowFiles, checkLive, flowsPage, hearText } from './flows/flows-page.ts';
import { home } from './home.ts';
import {
  changeModel,
  changeProperty,
  changeRoom,
  changeUnit,
  enterPlace,
  modelPage,
  newPlacePage,
  placesPage,
  propertyPage,
  roomPage,
  unitPage,
} from './keeping/places-page.ts';
import {
  cancelRental,
  changeRental,
  endRental,
  enterRental,
  newRentalPage,
  rentalPage,
  rentalsPage,
} from './keeping/rentals-page.ts';
import { learnedPage } from './learned/learned-page.ts';
import { nightLive, nightPage } from './night/night-page.ts';
import { numbersCsv, numbersPage } from './numbers/numbers-page.ts';
import { markLine, revokeLinks, sheetLive, sheetPage } from './sheet/sheet-page.ts';
import { calloutMessage, calloutPicture, sheetMessage, sheetPicture } from './media.ts';
import { passwordPage, setPassword } from './sign-in/password-page.ts';
import { accountPage, makeLink, peoplePage, signOutPerson } from './sign-in/people-page.ts';
import { rosterPage, swapNight } from './roster/roster-page.ts';
import { signIn, signInPage, signOut, signOutEverywhere } from './sign-in/sign-in-page.ts';
import type { Route } from './visit.ts';

const ANYONE = ['anyone'] as const;
const LINK = ['link'] as const;
const DEMO = ['demo'] as const;
const OWNER = ['owner'] as const;
const SIGNED_IN = ['technician', 'owner'] as const;

/** Every page and every action, with who may come. What is not in this list does not exist. */
export const ROUTES: readonly Route[] = [
  { method: 'get', path: '/', who: ANYONE, answer: home },

  { method: 'get', path: '/sign-in', who: ANYONE, answer: signInPage },
  { method: 'post', path: '/sign-in', who: ANYONE, answer: signIn },
  { method: 'get', path: '/password/:token', who: LINK, answer: passwordPage },
  { method: 'post', path: '/password/:token', who: LINK, answer: setPassword },
  { method: 'post', path: '/sign-out', who: SIGNED_IN, answer: signOut },
  { method: 'get', path: '/account', who: SIGNED_IN, answer: accountPage },
  { method: 'post', path: '/sign-out-everywhere', who: SIGNED_IN, answer: signOutEverywhere },
  { method: 'get', path: '/people', who: OWNER, answer: peoplePage },
  { method: 'post', path: '/people/:id/link', who: OWNER, answer: makeLink },
  { method: 'post', path: '/people/:id/sign-out', who: OWNER, answer: signOutPerson },

  { method: 'get', path: '/night', who: OWNER, answer: nightPage },
  { method: 'get', path: '/night/live', who: OWNER, answer: nightLive },
  { method: 'get', path: '/night/:id', who: OWNER, answer: sheetPage },
  { method: 'get', path: '/night/:id/live', who: OWNER, answer: sheetLive },
  { method: 'get', path: '/night/:id/picture/:entry/:index', who: OWNER, answer: sheetPicture },
  { method: 'get', path: '/night/:id/message/:callout/:index', who: OWNER, answer: sheetMessage },
  { method: 'post', path: '/night/:id/mark', who: OWNER, answer: markLine },
  { method: 'post', path: '/night/:id/revoke', who: OWNER, answer: revokeLinks },

  { method: 'get', path: '/roster', who: SIGNED_IN, answer: rosterPage },
  { method: 'post', path: '/roster/swap', who: SIGNED_IN, answer: swapNight },

  { method: 'get', path: '/rentals', who: OWNER, answer: rentalsPage },
  { method: 'get', path: '/rentals/new', who: OWNER, answer: newRentalPage },
  { method: 'post', path: '/rentals/new', who: OWNER, answer: enterRental },
  { method: 'get', path: '/rentals/:id', who: OWNER, answer: rentalPage },
  { method: 'post', path: '/rentals/:id', who: OWNER, answer: changeRental },
  { method: 'post', path: '/rentals/:id/end', who: OWNER, answer: endRental },
  { method: 'post', path: '/rentals/:id/cancel', who: OWNER, answer: cancelRental },

  { method: 'get', path: '/places', who: OWNER, answer: placesPage },
  { method: 'get', path: '/places/:table/new', who: OWNER, answer: newPlacePage },
  { method: 'post', path: '/places/:table/new', who: OWNER, answer: enterPlace },
  { method: 'get', path: '/places/units/:id', who: OWNER, answer: unitPage },
  { method: 'post', path: '/places/units/:id', who: OWNER, answer: changeUnit },
  { method: 'get', path: '/places/models/:id', who: OWNER, answer: modelPage },
  { method: 'post', path: '/places/models/:id', who: OWNER, answer: changeModel },
  { method: 'get', path: '/places/properties/:id', who: OWNER, answer: propertyPage },
  { method: 'post', path: '/places/properties/:id', who: OWNER, answer: changeProperty },
  { method: 'get', path: '/places/properties/:id/rooms/:room', who: OWNER, answer: roomPage },
  { method: 'post', path: '/places/properties/:id/rooms/:room', who: OWNER, answer: changeRoom },

  { method: 'get', path: '/flows', who: OWNER, answer: flowsPage },
  { method: 'post', path: '/flows/hear', who: OWNER, answer: hearText },
  { method: 'post', path: '/flows/check', who: OWNER, answer: checkFlowFiles },
  { method: 'get', path: '/flows/check/live', who: OWNER, answer: checkLive },
  { method: 'get', path: '/flows/:flow', who: OWNER, answer: flowPage },

  { method: 'get', path: '/numbers', who: OWNER, answer: numbersPage },
  { method: 'get', path: '/numbers/:name', who: OWNER, answer: numbersCsv },

  { method: 'get', path: '/learned', who: OWNER, answer: learnedPage },

  { method: 'get', path: '/callouts', who: SIGNED_IN, answer: ownCalloutsPage },
  { method: 'get', path: '/c/:token', who: LINK, answer: calloutPage },
  { method: 'get', path: '/c/:token/live', who: LINK, answer: calloutLive },
  { method: 'get', path: '/c/:token/picture/:entry/:index', who: LINK, answer: calloutPicture },
  { method: 'get', path: '/c/:token/message/:index', who: LINK, answer: calloutMessage },
  { method: 'post', path: '/c/:token', who: LINK, answer: actOnCallout },

  { method: 'get', path: '/demo', who: DEMO, answer: demoPage },
  { method: 'get', path: '/demo/live', who: DEMO, answer: demoLive },
  { method: 'post', path: '/demo/text', who: DEMO, answer: demoText },
  { method: 'post', path: '/demo/play', who: DEMO, answer: demoPlay },
  { method: 'post', path: '/demo/press', who: DEMO, answer: demoPress },
];
