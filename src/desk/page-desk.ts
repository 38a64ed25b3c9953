import type { FlowBook } from '../flow/book.ts';
import type { Hear } from '../words/heard.ts';
import type { CommandWord } from './callout/technician-command.ts';
import type { ChosenSwap } from './callout/roster-change.ts';
import type { Media, MessageAsked, PictureAsked, PictureType, SoundType } from './media.ts';

/** What someone does with a callout by pressing a button. */
export interface CalloutDeed {
  /** Names this press of a button: pressed again, or sent twice by a bad line, it does nothing more. */
  readonly id: string;
  readonly personId: number;
  readonly calloutId: number;
  readonly command: CommandWord;
  /** The note of DONE, the words of TELL; '' with the others. */
  readonly words: string;
}

/** What the pages need of the desk. */
export interface PageDesk {
  /** Does it as the text would, with the same rights, and says in words what came of it. */
  calloutDeed(deed: CalloutDeed): Promise<string>;
  /** What came of a deed, in words; null when there was none of that name. */
  calloutDeedDone(id: string): Promise<string | null>;
  /** Swaps a night or undoes its swaps; null when it is done, else why not, in words. */
  swapChosen(chosen: ChosenSwap): Promise<string | null>;
  /** A picture that a guest sent, fetched for whoever looks at it now. Who may look is the page's to say. */
  picture(asked: PictureAsked): Promise<Media<PictureType>>;
  /** A message that a caller left for whoever takes their callout, fetched in the same way. */
  message(asked: MessageAsked): Promise<Media<SoundType>>;
  /** Today's flows. */
  book(): FlowBook;
  readonly hear: Hear;
}
