'use client';

import { useSyncExternalStore } from 'react';
import { z } from 'zod';
import { ApiProblem } from '@/lib/platform/api';
import { type ReportFindRequest, reportFindRequest } from '@/lib/salvage/schema';
import { sendReport } from './report-queries';

/**
 * Reports that could not be sent yet, kept on this device. Each carries its own key, so that one which did arrive without an
 * answer is not written twice when it is sent again.
 */
const STORE = 'furcula.salvage.outbox';

const waiting = z.object({
  report: reportFindRequest,
  /** Whose report it is: another person who signs in here does not send it. */
  personId: z.string(),
  keptAt: z.string(),
  /** Why the server would not take it; null while it only waits for a connection. */
  problem: z.string().nullable(),
});
export type WaitingReport = z.infer<typeof waiting>;

const listeners = new Set<() => void>();
let cached: { text: string | null; reports: readonly WaitingReport[] } = { text: null, reports: [] };
const NONE: readonly WaitingReport[] = [];

function read(): readonly WaitingReport[] {
  const text = localStorage.getItem(STORE);
  if (text === cached.text) return cached.reports;
  cached = { text, reports: parse(text) };
  return cached.reports;
}

function parse(text: string | null): readonly WaitingReport[] {
  try {
    const parsed = waiting.array().safeParse(JSON.parse(text ?? '[]'));
    return parsed.success ? parsed.data : NONE;
  } catch {
    return NONE;
  }
}

function write(reports: readonly WaitingReport[]): void {
  if (reports.length === 0) localStorage.removeItem(STORE);
  else localStorage.setItem(STORE, JSON.stringify(reports));
  for (const listener of listeners) listener();
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  window.addEventListener('storage', listener);
  return () => {
    listeners.delete(listener);
    window.removeEventListener('storage', listener);
  };
}

/** The reports of this person that wait on this device. */
export function useOutbox(personId: string): readonly WaitingReport[] {
  const all = useSyncExternalStore(subscribe, read, () => NONE);
  return all.filter((one) => one.personId === personId);
}

export function keepReport(report: ReportFindRequest, personId: string): void {
  const others = read().filter((one) => one.report.requestKey !== report.requestKey);
  write([...others, { report, personId, keptAt: new Date().toISOString(), problem: null }]);
}

export const dropReport = (requestKey: string): void =>
  write(read().filter((one) => one.report.requestKey !== requestKey));

const note = (requestKey: string, problem: string): void =>
  write(read().map((one) => (one.report.requestKey === requestKey ? { ...one, problem } : one)));

/** A refusal that sending again would only repeat. */
const isFinal = ({ problem: { status, code } }: ApiProblem) =>
  code !== 'offline' && status >= 400 && status < 500 && status !== 401 && status !== 429;

export type Sent = { requestKey: string; id: string; number: string };

let sending: Promise<Sent[]> | null = null;

/** Sends what waits, one after the other, and stops at the first that cannot be reached. Returns what arrived. */
export function sendWaiting(personId: string): Promise<Sent[]> {
  sending ??= sendAll(personId).finally(() => {
    sending = null;
  });
  return sending;
}

async function sendAll(personId: string): Promise<Sent[]> {
  const sent: Sent[] = [];
  for (const { report, personId: owner, problem } of read()) {
    if (owner !== personId || problem !== null) continue;
    try {
      const { id, number } = await sendReport(report);
      dropReport(report.requestKey);
      sent.push({ requestKey: report.requestKey, id, number });
    } catch (error) {
      if (!(error instanceof ApiProblem)) throw error;
      if (!isFinal(error)) break;
      const { title, fields } = error.problem;
      note(report.requestKey, [title, ...fields.map(({ message }) => message)].join(' '));
    }
  }
  return sent;
}
