/**
 * What the provider takes in a voice document: verbs, what may stand in them, and their attributes. Written down from its
 * public documents as remembered; `tests/published/twiml-rules.test.ts` holds the names against its own library.
 */
export interface VerbRule {
  readonly attributes: readonly string[];
  /** Verbs and nouns that may stand in it. */
  readonly holds: readonly string[];
  /** Whether text may stand in it; `must`: has to. */
  readonly text: 'none' | 'may' | 'must';
}

export const VERBS: Readonly<Record<string, VerbRule>> = {
  Response: {
    attributes: [],
    holds: ['Say', 'Play', 'Pause', 'Gather', 'Record', 'Dial', 'Enqueue', 'Leave', 'Redirect', 'Hangup', 'Reject'],
    text: 'none',
  },
  Say: { attributes: ['language', 'voice', 'loop'], holds: [], text: 'must' },
  Play: { attributes: ['loop', 'digits'], holds: [], text: 'may' },
  Pause: { attributes: ['length'], holds: [], text: 'none' },
  Gather: {
    attributes: [
      'action',
      'actionOnEmptyResult',
      'bargeIn',
      'enhanced',
      'finishOnKey',
      'hints',
      'input',
      'language',
      'maxSpeechTime',
      'method',
      'numDigits',
      'partialResultCallback',
      'partialResultCallbackMethod',
      'profanityFilter',
      'speechModel',
      'speechTimeout',
      'timeout',
    ],
    holds: ['Say', 'Play', 'Pause'],
    text: 'none',
  },
  Record: {
    attributes: [
      'action',
      'finishOnKey',
      'maxLength',
      'method',
      'playBeep',
      'recordingStatusCallback',
      'recordingStatusCallbackEvent',
      'recordingStatusCallbackMethod',
      'timeout',
      'transcribe',
      'transcribeCallback',
      'trim',
    ],
    holds: [],
    text: 'none',
  },
  Dial: {
    attributes: [
      'action',
      'answerOnBridge',
      'callerId',
      'hangupOnStar',
      'method',
      'record',
      'ringTone',
      'sequential',
      'timeLimit',
      'timeout',
      'trim',
    ],
    holds: ['Queue', 'Number'],
    text: 'may',
  },
  Queue: { attributes: ['url', 'method'], holds: [], text: 'must' },
  Number: { attributes: ['url', 'method', 'sendDigits'], holds: [], text: 'must' },
  Enqueue: {
    attributes: ['action', 'maxQueueSize', 'method', 'waitUrl', 'waitUrlMethod'],
    holds: [],
    text: 'must',
  },
  Leave: { attributes: [], holds: [], text: 'none' },
  Redirect: { attributes: ['method'], holds: [], text: 'must' },
  Hangup: { attributes: [], holds: [], text: 'none' },
  Reject: { attributes: ['reason'], holds: [], text: 'none' },
};

/** Verbs that a document may hold which is played to someone who waits in a queue. */
export const WHILE_WAITING: readonly string[] = ['Say', 'Play', 'Pause', 'Redirect', 'Leave', 'Hangup', 'Gather'];

/** Verbs after which nothing of the same document is reached. */
export const LAST_VERBS: readonly string[] = ['Hangup', 'Redirect', 'Leave', 'Reject'];

const WHOLE = /^[1-9]\d*$/;
const YES_NO = /^(true|false)$/;
const ADDRESS = /^https:\/\/\S+$/;
const METHOD = /^(GET|POST)$/;

/** What a value must look like, where the documents say it. */
export const VALUES: Readonly<Record<string, RegExp>> = {
  action: ADDRESS,
  waitUrl: ADDRESS,
  method: METHOD,
  waitUrlMethod: METHOD,
  timeout: WHOLE,
  numDigits: WHOLE,
  length: WHOLE,
  maxLength: WHOLE,
  speechTimeout: /^([1-9]\d*|auto)$/,
  actionOnEmptyResult: YES_NO,
  bargeIn: YES_NO,
  profanityFilter: YES_NO,
  playBeep: YES_NO,
  input: /^(dtmf|speech|dtmf speech|speech dtmf)$/,
  finishOnKey: /^[0-9*#]*$/,
  language: /^(en-US|es-MX)$/,
  hints: /^[^<>]{1,20000}$/,
};
