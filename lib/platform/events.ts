import { z } from 'zod';
import type { Prisma } from './generated/prisma/client';
import type { AuditDraft } from './tx';

type EventShapes = Record<string, z.ZodType>;

/** Whom an event is about; `birdId` puts it into the bird's own story too. */
export type EventSubject = {
  subjectType: string;
  subjectId: string;
  birdId?: string | null;
  reason?: string | null;
};

/**
 * The audit events of a stage: a map from kind ('salvage.logged') to the shape of its payload.
 * The returned function makes a checked event: a payload that does not fit is a programming error and throws.
 */
export function defineEvents<const Shapes extends EventShapes>(shapes: Shapes) {
  const make = <Kind extends keyof Shapes & string>(
    kind: Kind,
    subject: EventSubject,
    payload: z.input<Shapes[Kind]>,
  ): AuditDraft => {
    const shape = shapes[kind];
    if (shape === undefined) throw new Error(`Unknown audit event ${kind}`);
    return { kind, ...subject, payload: shape.parse(payload) as Prisma.InputJsonValue };
  };
  return { shapes, make };
}

const scalar = z.union([z.string(), z.number(), z.boolean(), z.null()]);

/** Field differences: what from, what to. */
export const changesShape = z.record(z.string(), z.object({ from: z.unknown(), to: z.unknown() }));
export type Changes = z.infer<typeof changesShape>;

/** The fields whose values differ, by JSON equality. Dates count by their instant. */
export function differences<T extends Record<string, unknown>>(before: T, after: Partial<T>): Changes {
  const changes: Changes = {};
  for (const [field, to] of Object.entries(after)) {
    const from = before[field];
    if (JSON.stringify(from ?? null) !== JSON.stringify(to ?? null)) {
      changes[field] = { from: scalarOrJson(from), to: scalarOrJson(to) };
    }
  }
  return changes;
}

function scalarOrJson(value: unknown): unknown {
  const plain = scalar.safeParse(value ?? null);
  return plain.success ? plain.data : JSON.parse(JSON.stringify(value));
}
