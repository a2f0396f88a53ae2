import pg from 'pg';

export type Statement = { text: string; values: unknown[] };

const AROUND = /^\s*(BEGIN|COMMIT|ROLLBACK|SAVEPOINT|RELEASE|SET)\b/i;
const COMMIT = /^\s*COMMIT\b/i;

/**
 * Everything that pg sends while `act` runs, in order, but for what begins and ends transactions.
 * @param isUndone what would be committed is rolled back, so that the statements can be sent again
 */
export async function recordStatements(act: () => Promise<unknown>, isUndone = false): Promise<Statement[]> {
  const sent: Statement[] = [];
  const original = pg.Client.prototype.query;
  pg.Client.prototype.query = function (this: pg.Client, ...given: unknown[]) {
    const [first, second, ...rest] = given as [string | Statement, unknown[] | undefined];
    const text = typeof first === 'string' ? first : first.text;
    const values = (typeof first === 'string' ? second : first.values) ?? [];
    if (!AROUND.test(text)) sent.push({ text, values: Array.isArray(values) ? values : [] });
    const all = isUndone && COMMIT.test(text) ? [rollback(first), second, ...rest] : given;
    return (original as (...args: unknown[]) => unknown).apply(this, all);
  } as typeof original;
  await act().finally(() => {
    pg.Client.prototype.query = original;
  });
  return sent;
}

const rollback = (statement: string | Statement): string | Statement =>
  typeof statement === 'string' ? 'ROLLBACK' : { ...statement, text: 'ROLLBACK' };
