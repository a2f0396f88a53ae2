/** What a reader of written text hands back: a value, or why it would not guess. */
export type Outcome<T> = { ok: true; value: T } | Refusal;

export interface Refusal {
  ok: false;
  /** `ambiguous` carries the readings a person may choose from; the others have none. */
  code: 'empty' | 'unreadable' | 'ambiguous' | 'out-of-range' | 'incomplete';
  message: string;
  readings: string[];
}

export function accept<T>(value: T): { ok: true; value: T } {
  return { ok: true, value };
}

export function refuse(code: Refusal['code'], message: string, readings: string[] = []): Refusal {
  return { ok: false, code, message, readings };
}
