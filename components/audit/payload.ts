export type Payload = Record<string, unknown>;

/** A fact of an event as text; what is not there is empty. */
export const text = (payload: Payload, key: string): string => String(payload[key] ?? '');

export const listed = (payload: Payload, key: string): string =>
  Array.isArray(payload[key]) ? payload[key].join(', ') : '';
