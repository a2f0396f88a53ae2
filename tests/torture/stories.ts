import { randomUUID } from 'node:crypto';

/** One write on its way. Sent again under the same key it must be carried out once. */
export type Step = { name: string; path: string; body: Record<string, unknown>; key: string; times: number };

/** An acknowledged write and a question to the database that counts 1 when it is there. */
export type Acknowledged = { step: string; key: string; sql: string; values: unknown[] };

type Answer = Record<string, unknown> & { id?: string; version?: number; number?: string };

/**
 * A found bird on its way into the queue: logged, in triage, accepted, accessioned, queued. Each step is one command
 * over several tables.
 */
export class Story {
  private step: Step;
  private salvageId = '';
  private version = 0;
  private birdId = '';
  private finished = false;

  constructor(private readonly facts: { taxonId: string; personId: string; serial: number }) {
    this.step = this.make('log', '/api/salvage', {
      requestKey: randomUUID(),
      found: { earliestOn: '2026-05-01', latestOn: '2026-05-01', verbatim: '1 May 2026' },
      receivedOn: '2026-05-02',
      place: { country: 'US', stateProvince: 'Ohio', county: 'Franklin', locality: `Window ${facts.serial}` },
      taxonId: facts.taxonId,
      verbatimTaxon: 'robin',
      cause: 'window-strike',
      condition: 'fresh',
      facts: { finderPersonId: facts.personId, finderRelation: 'under-direct-control' },
    });
  }

  get isFinished(): boolean {
    return this.finished;
  }

  /** What to send now; the same again until `take` is told an answer. */
  get next(): Step {
    return this.step;
  }

  private make(name: string, path: string, body: Record<string, unknown>): Step {
    return { name, path, body, key: randomUUID(), times: 0 };
  }

  /** Goes on after an answer; returns what must now be in the database, whatever happens. */
  take(answer: Answer): Acknowledged {
    const { name, key } = this.step;
    const kept = (sql: string, ...values: unknown[]): Acknowledged => ({ step: name, key, sql, values });
    this.version = answer.version ?? this.version;
    switch (name) {
      case 'log':
        this.salvageId = answer.id ?? '';
        this.step = this.make('triage', `/api/salvage/${this.salvageId}/triage`, { version: this.version });
        return kept(
          `SELECT FROM "SalvageRecord" WHERE id = $1 AND number = $2`,
          this.salvageId,
          answer.number,
        );
      case 'triage':
        this.step = this.make('accept', `/api/salvage/${this.salvageId}/accept`, { version: this.version });
        return kept(
          `SELECT FROM "SalvageRecord" WHERE id = $1 AND state IN ('in-triage', 'accepted')`,
          this.salvageId,
        );
      case 'accept':
        this.step = this.make('accession', '/api/accessions', {
          kind: 'salvage',
          source: `Torture ${this.facts.serial}`,
          receivedOn: '2026-05-02',
          salvageIds: [this.salvageId],
        });
        return kept(
          `SELECT FROM "SalvageRecord" s JOIN "Bird" b ON b."salvageId" = s.id WHERE s.id = $1 AND s.state = 'accepted'`,
          this.salvageId,
        );
      case 'accession':
        this.birdId = (answer.lots as { birdId: string }[] | undefined)?.[0]?.birdId ?? '';
        this.step = this.make('queue', '/api/queue/enqueue', {
          birdIds: [this.birdId],
          style: 'whole-skeleton',
          sizeClass: 'small',
        });
        return kept(
          `SELECT FROM "Accession" a JOIN "SalvageRecord" s ON s."accessionId" = a.id WHERE a.id = $1 AND a.number = $2 AND s.id = $3`,
          answer.id,
          answer.number,
          this.salvageId,
        );
      default:
        this.finished = true;
        return kept(`SELECT FROM "Bird" WHERE id = $1 AND state = 'queued'`, this.birdId);
    }
  }
}
