import pg from 'pg';

export type Statement = { text: string; values: unknown[] };

const AROUND = /^\s*(BEGIN|COMMIT|ROLLBACK|SAVEPOINT|RELEASE|SET)\b/i;

/** Everything that pg sends while `act` runs, in order, but for what begins and ends transactions. */
export async function recordStatements(act: () => Promise<unknown>): Promise<Statement[]> {
  const sent: Statement[] = [];
  const original = pg.Client.prototype.query;
  pg.Client.prototype.query = function (this: pg.Client, ...given: unknown[]) {
    const [first, second] = given as [string | Statement, unknown[] | undefined];
    const text = typeof first === 'string' ? first : first.text;
    const values = (typeof first === 'string' ? second : first.values) ?? [];
    if (!AROUND.test(text)) sent.push({ text, values: Array.isArray(values) ? values : [] });
    return (original as (...all: unknown[]) => unknown).apply(this, given);
  } as typeof original;
  await act().finally(() => {
    pg.Client.prototype.query = original;
  });
  return sent;
}
