import type { Generated, Selectable } from 'kysely';
import type { TextState } from '../desk/carrier.ts';
import type { KeepingDeed } from '../desk/keeping/note.ts';
import type { CalloutStatus, Conversation } from '../desk/records.ts';
import type { Urgency } from '../roster/trying.ts';
import type { Instant } from '../time/instant.ts';
import type { Language } from '../words/heard.ts';

/**
 * The tables as the queries see them; `migrations/` makes them. The same on SQLite and Postgres: instants and days are
 * ISO text, yes and no is 1 and 0, and a column whose name ends in `_json` is text that only its own module parses.
 */
export interface Tables {
  properties: PropertyTable;
  model_sheets: ModelSheetTable;
  units: UnitTable;
  rooms: RoomTable;
  rentals: RentalTable;
  rental_phones: { rental_id: number; phone: string };
  setting_sheets: SettingSheetTable;
  people: PersonTable;
  roster: { id: number; zone: string };
  shifts: ShiftTable;
  holidays: { day: string; name: string };
  holiday_shifts: HolidayShiftTable;
  swaps: { id: Generated<number>; day: string; person_id: number; with_id: number };
  guests: GuestTable;
  flow_versions: { hash: string; documents_json: string; kept_at: Instant };
  conversations: ConversationTable;
  entries: EntryTable;
  outlet_notes: OutletNoteTable;
  messages: MessageTable;
  callouts: CalloutTable;
  callout_conversations: CalloutConversationTable;
  offers: OfferTable;
  work: WorkTable;
  text_states: { text: string; state: TextState; rank: number; at: Instant };
  signs_of_life: { id: number; at: Instant };
  set_backs: { id: number; number: number; from_at: Instant; to_at: Instant };
  drills: { id: Generated<number>; begun_at: Instant };
  page_secret: { id: number; secret: string };
  passwords: { person_id: number; hash: string; set_at: Instant };
  sessions: { token_hash: string; person_id: number; begun_at: Instant; ends_at: Instant };
  password_links: { token_hash: string; person_id: number; ends_at: Instant };
  sign_in_tries: { account: string; at: Instant };
  callout_links: CalloutLinkTable;
  marks: { entry_id: number; person_id: number; at: Instant; expect_json: string };
  keeping_notes: KeepingNoteTable;
  incoming_calls: IncomingCallTable;
  recordings: RecordingTable;
  drill_calls: { drill_id: number; person_id: number; answered_at: Instant | null };
}

export type YesNo = 0 | 1;
export const yesNo = (value: boolean): YesNo => (value ? 1 : 0);

export interface PropertyTable {
  id: Generated<number>;
  name: string;
  street_address: string;
  elevation_m: number;
  zone: string;
  emergency_number: string;
  dispatch_number: string | null;
  front_desk_phone: string | null;
  entrance: string | null;
  text_to_emergency: YesNo;
}

export interface ModelSheetTable {
  id: Generated<number>;
  name: string;
  maximum_flow_rate_lpm: number;
  rated_elevation_m: number | null;
  power_draw_w: number | null;
  bottle_ml: Generated<number | null>;
  tubing_m: Generated<number | null>;
  alarms: Generated<string | null>;
  low_purity_light: Generated<string | null>;
}

export interface UnitTable {
  id: Generated<number>;
  tag: string;
  /** The tag as `labelKey` writes it, which is how guests' spellings find it. */
  tag_key: string;
  model_sheet_id: number;
}

export interface RoomTable {
  id: Generated<number>;
  property_id: number;
  room: string;
  room_key: string;
  phone: string | null;
  way_in: string | null;
}

export interface RentalTable {
  id: Generated<number>;
  /** The owner's own number of the booking. */
  booking: Generated<string | null>;
  guest_name: string;
  property_id: number;
  room: string;
  room_key: string;
  unit_id: number;
  first_day: string;
  last_day: string;
  people: number;
  fragile: YesNo;
  age_group: 'adult' | 'child';
  order_json: string | null;
  cylinder: YesNo;
  oxygen_at_home: YesNo;
}

export interface SettingSheetTable {
  id: Generated<number>;
  signed_by: string;
  signed_on: string;
  lines_json: string;
}

export interface PersonTable {
  id: Generated<number>;
  name: string;
  phone: string;
  role: 'technician' | 'owner';
  active: Generated<YesNo>;
}

export interface ShiftTable {
  id: Generated<number>;
  person_id: number;
  days_json: string;
  from_time: string;
  to_time: string;
  position: number;
}

export interface HolidayShiftTable {
  id: Generated<number>;
  day: string;
  person_id: number;
  from_time: string;
  to_time: string;
  position: number;
}

export interface GuestTable {
  phone: string;
  lang: Language | null;
  opted_out_at: Instant | null;
  /** When a text to the phone could not be delivered, if none has been since. */
  texts_lost_at: Generated<Instant | null>;
}

export interface ConversationTable {
  id: Generated<number>;
  phone: string;
  rental_id: number | null;
  property_id: number | null;
  room: string | null;
  lang: Language;
  flow_hash: string;
  engine: number;
  state: string;
  opened_at: Instant;
  last_guest_at: Instant;
  guest_messages: number;
  last_reply: string | null;
  equal_replies: number;
  place_asked: YesNo;
  ending: Conversation['ending'];
  ended_at: Instant | null;
  burst_since: Instant | null;
  burst_texts: number;
}

export interface EntryTable {
  id: Generated<number>;
  conversation_id: number;
  at: Instant;
  who: 'guest' | 'desk' | 'technician' | 'owner';
  words: string;
  heard_json: string;
  step: string | null;
  media_json: string;
  message_id: string | null;
  /** A guest's text that the step could make nothing of. */
  missed: Generated<YesNo>;
}

export interface OutletNoteTable {
  id: Generated<number>;
  property_id: number;
  room_key: string;
  room: string;
  /** A value of the answer kind `outlet-place`, or `other-wall`. */
  place: string;
  worked: YesNo;
  at: Instant;
  conversation_id: number;
}

export interface MessageTable {
  id: string;
  phone: string;
  at: Instant;
  reply: string | null;
  reply_entry_id: number | null;
}

export interface CalloutTable {
  id: Generated<number>;
  key: string;
  conversation_id: number;
  matter: string;
  urgency: Urgency;
  status: CalloutStatus;
  brief: string;
  opened_at: Instant;
  taken_by: number | null;
  taken_at: Instant | null;
  done_at: Instant | null;
  note: string | null;
  round: Generated<number>;
  cause: string | null;
}

export interface CalloutConversationTable {
  id: Generated<number>;
  callout_id: number;
  conversation_id: number;
  joined_at: Instant;
  told_at: Instant | null;
}

export interface OfferTable {
  id: Generated<number>;
  callout_id: number;
  person_id: number;
  at: Instant;
  by: 'text' | 'call';
  passed_at: Generated<Instant | null>;
}

export interface CalloutLinkTable {
  token: string;
  callout_id: number;
  person_id: number;
  ends_at: Instant;
  revoked_at: Instant | null;
}

export interface KeepingNoteTable {
  id: Generated<number>;
  at: Instant;
  done_by: string;
  what: KeepingDeed;
  details_json: string;
}

export interface WorkTable {
  id: Generated<number>;
  kind: string;
  /** When it was first due: the order in which a guest's rows are done. */
  due_at: Instant;
  /** When it may next be claimed: first `due_at`, then the end of a lease or of a back-off. */
  free_at: Instant;
  not_after: Instant | null;
  key: string | null;
  phone: string | null;
  danger: YesNo;
  payload_json: string;
  tries: number;
  done_at: Instant | null;
  result: string | null;
  /** Set while it is not known whether the carrier took what was handed to it. */
  attempted_at: Instant | null;
}

export interface IncomingCallTable {
  id: Generated<number>;
  call_id: string;
  phone: string;
  lang: Language;
  conversation_id: number | null;
  waits_for: number | null;
  standing_json: string;
  opened_at: Instant;
  ended_at: Instant | null;
}

export interface RecordingTable {
  id: Generated<number>;
  callout_id: number;
  conversation_id: number;
  address: string;
  length_s: number;
  at: Instant;
}

export type Row<Table extends keyof Tables> = Selectable<Tables[Table]>;
