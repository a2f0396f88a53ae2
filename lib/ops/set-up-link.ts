import { createHash, randomBytes } from 'node:crypto';
import { connectTo } from './connect';

const validityHours = 24;

/**
 * Makes the one-time link with which the first administrator of an empty installation makes an account, or
 * returns undefined when somebody has one already. An earlier link that was not used ends. Only the digest of
 * its token is kept.
 */
export async function makeSetUpLink(databaseUrl: string, address: string): Promise<string | undefined> {
  const client = await connectTo(databaseUrl);
  try {
    const people = await client.query('select 1 from "Person" limit 1');
    if (people.rowCount !== 0) return undefined;
    const token = randomBytes(24).toString('base64url');
    const digest = createHash('sha256').update(token).digest('hex');
    await client.query(`delete from "AccessLink" where purpose = 'first-administrator' and "usedAt" is null`);
    await client.query(
      `insert into "AccessLink" (id, purpose, "tokenDigest", "expiresAt")
       values (gen_random_uuid(), 'first-administrator', $1, now() + make_interval(hours => $2))`,
      [digest, validityHours],
    );
    return `${address}/set-up/${token}`;
  } finally {
    await client.end();
  }
}
