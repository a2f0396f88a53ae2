'use client';

import { createContext, useContext } from 'react';
import type { DictationContext } from '@/lib/bench/dictation/sheet';
import type { FieldId } from '@/lib/bench/fields';
import type { ShownValue } from '@/lib/bench/wire';

export interface NewValue {
  field: FieldId;
  /** Null takes the value away. */
  value: ShownValue['value'] | null;
  method: string | null;
  verbatim: string | null;
  correction: boolean;
}

/** The field in hand: what the card beside the record speaks of. */
export interface FieldInHand {
  field: FieldId;
  /** What is being typed; null when nothing is. */
  draft: string | null;
}

/** A value outside React that only those who ask for it hear of. */
export class Cell<T> {
  private readonly listeners = new Set<() => void>();
  constructor(private held: T) {}
  get = (): T => this.held;
  set = (next: T): void => {
    this.held = next;
    for (const listener of this.listeners) listener();
  };
  subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => void this.listeners.delete(listener);
  };
}

export interface Bench {
  recordId: string;
  meId: string;
  mayWrite: boolean;
  scales: NonNullable<DictationContext['scales']>;
  write: (values: readonly NewValue[]) => void;
  inHand: Cell<FieldInHand | null>;
}

const BenchContext = createContext<Bench | null>(null);
export const BenchProvider = BenchContext.Provider;

/** What every field at the bench shares. @throws Error outside a bench record. */
export function useBench(): Bench {
  const bench = useContext(BenchContext);
  if (bench === null) throw new Error('useBench belongs inside a bench record.');
  return bench;
}
