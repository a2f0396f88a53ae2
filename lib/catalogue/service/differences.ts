import 'server-only';
import { z } from 'zod';
import type { RecordForReview } from '@/lib/bench/public';
import { say } from '@/lib/platform/words/say';
import type { ReturnEvent, ReviewedRecord } from '../repo/review';
import { readHeld } from '../shapes';
import type { ReviewRecord } from '../wire';
import { boneLine } from './facts';

const returnPayload = z.object({ bones: z.array(z.string()) });

/** What changed on a record since it was last returned: fields by their entries, the bone book line by line. */
export function differencesSince(
  record: ReviewedRecord,
  last: ReturnEvent,
  remarks: RecordForReview['remarks'],
): ReviewRecord['lastReturn'] {
  const { bones } = returnPayload.parse(last.payload);
  const at = last.at.toISOString();
  return {
    at,
    by: last.actorName,
    remarks: remarks
      .filter((one) => one.at === at)
      .map(({ field, remark, answer }) => ({ field, remark, answer: answer?.text ?? null })),
    changes: fieldChanges(record, last.at),
    boneChanges: boneChanges(bones, record.bird.bones.map(boneLine)),
  };
}

type Json = NonNullable<ReviewRecord['lastReturn']>['changes'][number]['from'];

function fieldChanges(record: ReviewedRecord, since: Date) {
  const now = readHeld(record.values);
  const written = new Set(
    record.entries
      .filter(
        ({ enteredAt, supersededAt }) => enteredAt > since || (supersededAt !== null && supersededAt > since),
      )
      .map(({ field }) => field),
  );
  return [...written].flatMap((field) => {
    // The entry in force when it was returned.
    const before = record.entries.find(
      (entry) =>
        entry.field === field &&
        entry.enteredAt <= since &&
        (entry.supersededAt === null || entry.supersededAt > since),
    );
    const from = (before?.value ?? null) as Json;
    const to = (now.get(field)?.value ?? null) as Json;
    return JSON.stringify(from) === JSON.stringify(to) ? [] : [{ field, from, to }];
  });
}

const split = (line: string): [name: string, rest: string] => {
  const [element = '', side = '', portion = '', ...rest] = line.split('/');
  return [[element, side, portion].join('/'), rest.join(', ')];
};

function boneChanges(before: readonly string[], after: readonly string[]) {
  const [then, now] = [new Map(before.map(split)), new Map(after.map(split))];
  return [...new Set([...then.keys(), ...now.keys()])].flatMap((bone) => {
    const [from, to] = [then.get(bone) ?? say('not in the book'), now.get(bone) ?? say('not in the book')];
    return from === to ? [] : [{ bone, from, to }];
  });
}
