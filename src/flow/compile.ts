import { ANSWER_KINDS } from '../words/heard.ts';
import type { Step, StepOrder, Target } from './document.ts';
import { LIMIT_OF_CONDITION } from './conditions.ts';
import type { Condition } from './conditions.ts';
import {
  AFTER_AN_END,
  BY_TABLE,
  CHECK_BACK,
  DANGER_FLOW,
  DANGER_PERSON,
  DANGER_QUESTIONS,
  EMERGENCY,
  OPENING,
  PERSON,
  REFILLED,
  RESUME,
  flowOf,
  fullName,
  stepsIn,
  stepsOf,
  topicOpenings,
} from './book.ts';
import type { FlowBook, StepId, TopicOpening } from './book.ts';
import { reentering, say, sayPhrase } from './edges.ts';
import type { Edge } from './edges.ts';
import { PLAIN_EVENT_TYPES } from './events.ts';
import { FRESH_CONTEXT, deskSetup } from './machine.ts';
import type { ConditionAt, DeskMachine, MachineConfig } from './machine.ts';
import { needsOf } from './needs.ts';

/**
 * All flows become one machine of two parts under a root: `matter`, with a state per step of every flow, and `danger`.
 * The root's own transitions carry danger, so they hold in every state of both parts; leaving danger goes through the
 * history of `matter`, back to the step that was interrupted. There are no final states, no wildcards and no timed
 * transitions: a wildcard would swallow the root's danger transition, and a finished machine would stay finished.
 */

class Compiler {
  private readonly steps: ReadonlyMap<StepId, Step>;
  private readonly topics: ReadonlyMap<string, TopicOpening>;
  private readonly book: FlowBook;

  constructor(book: FlowBook) {
    this.book = book;
    this.steps = stepsOf(book);
    this.topics = topicOpenings(book);
  }

  private conditionAt(condition: Condition): ConditionAt {
    const limit = LIMIT_OF_CONDITION[condition];
    return { condition, limit: limit === undefined ? null : (this.book.limits.limits[limit]?.value ?? null) };
  }

  /** Leads to a step; where a fact that its words need is missing, elsewhere instead. */
  private toStep(id: StepId, condition: Condition | null): Edge[] {
    const step = this.steps.get(id);
    const needs = step === undefined ? [] : needsOf(step);
    const when = condition === null ? null : this.conditionAt(condition);
    const ifItHolds: Pick<Edge, 'guard'> = when === null ? {} : { guard: { type: 'holds', params: { when } } };
    if (needs.length === 0) return [{ ...ifItHolds, target: `#${id}` }];
    const instead = this.without(id, step);
    return [
      { guard: { type: 'mayGo', params: { when, needs } }, target: `#${id}` },
      { ...ifItHolds, target: `#${instead}` },
    ];
  }

  /** Where a step leads while a fact that its words need is not known. */
  private without(id: StepId, step: Step | undefined): StepId {
    return fullName(flowOf(id), step?.['if-unknown'] ?? PERSON);
  }

  /** Back to where danger interrupted: on to the step it names, to the topic named beside the sign, or there again. */
  private resuming(): Edge[] {
    const actions = [{ type: 'calm' }];
    const onward = [...this.steps].flatMap(([step, { 'resume-at': resumeAt }]): Edge[] =>
      resumeAt === undefined
        ? []
        : this.toTarget(flowOf(step), resumeAt)
            .filter((edge) => edge.guard === undefined)
            .map((edge) => ({ ...edge, guard: { type: 'waitsAt', params: { step } }, actions })),
    );
    const waiting = [...this.topics].flatMap(([topic, { flow, target }]) =>
      stepsIn(flow, target)
        .slice(-1)
        .map((id): Edge => {
          const guard: Edge['guard'] = { type: 'waitsFor', params: { topic } };
          return { guard, target: `#${this.beyondQuestions(id)}`, actions };
        }),
    );
    return [...onward, ...waiting, { target: '#matter.interrupted', actions }];
  }

  /** A flow that opens with danger questions of its own goes on behind them: they were answered a moment ago. */
  private beyondQuestions(id: StepId): StepId {
    const step = this.steps.get(id);
    const denied = step?.otherwise === undefined ? undefined : step.go?.['no'];
    return typeof denied === 'string' ? fullName(flowOf(id), denied) : id;
  }

  private byTable(keep: string | null): Edge[] {
    const { rows, 'low-reading-pct': lowPct } = this.book.symptomTable;
    return rows.map((row) => ({ guard: { type: 'fitsRow', params: { row, lowPct, keep } }, target: `#${row.to}` }));
  }

  private toTarget(flow: string, target: Target, keep: string | null = null): Edge[] {
    if (target === RESUME) return this.resuming();
    if (target === BY_TABLE) return this.byTable(keep);
    if (typeof target === 'string') return this.toStep(fullName(flow, target), null);
    return target.flatMap((branch) => this.toStep(fullName(flow, branch.to), branch.when ?? null));
  }

  /** What makes a step speak: also what "again" repeats. */
  private speech(id: StepId, step: Step): object[] {
    const ownWords = step.tell !== undefined || step.ask !== undefined;
    return [...(step.says === 'emergency' ? [{ type: 'sayEmergency' }] : []), ...(ownWords ? [say(id)] : [])];
  }

  private keeps(flow: string): boolean {
    const document = this.book.flows.find((each) => each.flow === flow);
    return Object.values(document?.steps ?? {}).some((step) => step.keep !== undefined);
  }

  private entryActions(id: StepId, step: Step): object[] {
    const order = (each: StepOrder) => ({ type: 'order', params: { order: each } });
    return [
      // Nobody goes "back" into danger by a word, so its steps leave no trail.
      flowOf(id) === DANGER_FLOW
        ? { type: 'forgetMisses' }
        : { type: 'arrive', params: { step: id, keeps: this.keeps(flowOf(id)) } },
      ...(step.signs === undefined ? [] : [{ type: 'assumeSigns', params: { signs: step.signs } }]),
      ...(step.do ?? []).map(order),
      ...this.speech(id, step),
      ...this.listening(id, step),
    ];
  }

  /** The wait of a step that has one. A word of thanks begins it anew: it must not cost the guest the check-back. */
  private listening(id: StepId, step: Step): object[] {
    return step.silent === undefined ? [] : [{ type: 'listen', params: { after: step.silent.after, step: id } }];
  }

  /** What each step gets without writing it. The step's own `go` is laid over it. */
  private unwritten(id: StepId, step: Step): Record<string, Edge[]> {
    const again: Edge[] = [{ actions: this.speech(id, step) }];
    if (flowOf(id) === DANGER_FLOW) {
      // Nothing leads out of danger by the way: whatever is no answer goes where a miss goes.
      const anything = step.go?.['miss'] === undefined ? again : this.toTarget(DANGER_FLOW, step.go['miss']);
      const handledAbove = ['danger:now', 'danger:ask', 'person'];
      const types = this.everyType(step).filter((type) => !handledAbove.includes(type));
      return { ...Object.fromEntries(types.map((type) => [type, anything])), again, ok: again };
    }
    const ended = step.end !== undefined;
    const miss: Edge[] = ended
      ? [{ target: `#${AFTER_AN_END}` }]
      : [
          { guard: { type: 'missedBefore' }, target: `#${PERSON}` },
          { actions: [{ type: 'countMiss' }, sayPhrase('not-understood'), ...this.speech(id, step)] },
        ];
    return {
      // Values of the kind that this step does not offer are no answer to it.
      ...Object.fromEntries(this.answerTypes(step).map((type) => [type, miss])),
      again,
      back: [...this.cameFrom(id), { actions: [sayPhrase('no-way-back'), ...this.speech(id, step)] }],
      ok: ended ? [{ actions: [sayPhrase('thanks'), ...this.listening(id, step)] }] : again,
      greet: again,
      miss,
      unsure: [{ target: `#${PERSON}` }],
    };
  }

  /** Any step of a matter can be the one before, through a change of topic: the guard looks at the trail. */
  private cameFrom(id: StepId): Edge[] {
    return [...this.steps.keys()]
      .filter((step) => step !== id && flowOf(step) !== DANGER_FLOW)
      .map((step) => ({
        guard: { type: 'cameFrom', params: { step } },
        target: `#${step}`,
        actions: [{ type: 'retreat' }],
      }));
  }

  private transitionsOf(id: StepId, step: Step): Record<string, Edge[]> {
    const flow = flowOf(id);
    const on = this.unwritten(id, step);
    if (step.otherwise !== undefined) {
      const strict = this.toTarget(flow, step.otherwise);
      for (const type of this.everyType(step)) if (type !== 'danger:now') on[type] = strict;
    }
    const keeping = step.keep === undefined ? [] : [{ type: 'keep', params: { as: step.keep } }];
    const keepingTarget = (target: Target): Edge[] =>
      this.toTarget(flow, target, step.keep ?? null).map((edge) => ({
        ...edge,
        actions: [...(edge.actions ?? []), ...keeping],
      }));
    for (const [answer, target] of Object.entries(step.go ?? {})) {
      const type = answer === 'unsure' || answer === 'miss' ? answer : `answer:${answer}`;
      on[type] = keepingTarget(target);
    }
    if (step.worrying !== undefined || step['resume-at'] !== undefined) {
      const waitAt = step['resume-at'] === undefined ? [] : [{ type: 'waitAt', params: { step: id } }];
      on['danger:ask'] = keepingTarget(step.worrying ?? DANGER_QUESTIONS).map((edge) => ({
        ...edge,
        actions: [{ type: 'keepSigns' }, ...waitAt, ...(edge.actions ?? [])],
      }));
    }
    if (step.silent !== undefined) on['silent'] = this.toTarget(flow, step.silent.to);
    if (needsOf(step).length > 0) on['unknown'] = [{ target: `#${this.without(id, step)}` }];
    return Object.fromEntries(
      Object.entries(on).map(([type, edges]) => [type, edges.map((edge) => reentering(id, edge))]),
    );
  }

  /** Every type a text can be at a step. */
  private everyType(step: Step): readonly string[] {
    const topics = [...this.topics.keys()].map((topic) => `topic:${topic}`);
    return [...PLAIN_EVENT_TYPES, ...this.answerTypes(step), ...topics];
  }

  private answerTypes(step: Step): readonly string[] {
    if (step.hears === undefined) return [];
    return ['answer:number', ...ANSWER_KINDS[step.hears].values.map((value) => `answer:${value}`)];
  }

  private stateOf(id: StepId, step: Step): object {
    return { entry: this.entryActions(id, step), on: this.transitionsOf(id, step) };
  }

  private flowState(name: string): object {
    const flow = this.book.flows.find((each) => each.flow === name);
    const states = Object.entries(flow?.steps ?? {}).map(([step, body]) => [
      step,
      this.stateOf(`${name}.${step}`, body),
    ]);
    return { id: name, initial: states[0]?.[0], states: Object.fromEntries(states) };
  }

  config(): object {
    const matters = this.book.flows.map((flow) => flow.flow).filter((flow) => flow !== DANGER_FLOW);
    const topicTransitions = [...this.topics].map(([topic, { flow, target }]) => [
      `topic:${topic}`,
      this.toTarget(flow, target),
    ]);
    const keepSigns = [{ type: 'keepSigns' }];
    return {
      id: 'desk',
      context: FRESH_CONTEXT,
      initial: 'matter',
      on: {
        'danger:now': { target: `#${EMERGENCY}`, actions: keepSigns },
        'danger:ask': { target: `#${DANGER_QUESTIONS}`, actions: keepSigns },
      },
      states: {
        matter: {
          id: 'matter',
          initial: flowOf(OPENING),
          on: {
            person: { target: `#${PERSON}` },
            // Conversations may still be on flows from before these steps were written.
            refilled: { target: `#${this.steps.has(REFILLED) ? REFILLED : AFTER_AN_END}` },
            ...(this.steps.has(CHECK_BACK) ? { visited: { target: `#${CHECK_BACK}` } } : {}),
            ...Object.fromEntries(topicTransitions),
          },
          states: {
            ...Object.fromEntries(matters.map((name) => [name, this.flowState(name)])),
            interrupted: { type: 'history', history: 'deep', target: `#${OPENING}` },
          },
        },
        danger: {
          ...this.flowState(DANGER_FLOW),
          on: {
            person: { target: `#${DANGER_PERSON}` },
            // Past the questions, anything worrying is the emergency again.
            'danger:ask': { target: `#${EMERGENCY}`, actions: keepSigns },
          },
        },
      },
    };
  }
}

/** The plain data that the machine is made of; also what is drawn and walked. */
export function compileConfig(book: FlowBook): object {
  return new Compiler(book).config();
}

/**
 * The machine of all flows. The book must have passed its checks (`readBook`): the state machine library itself takes a
 * misspelled name without a word.
 */
export function compile(book: FlowBook): DeskMachine {
  return deskSetup.createMachine(compileConfig(book) as MachineConfig);
}
