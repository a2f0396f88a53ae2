import 'server-only';
import { hash, verify } from '@node-rs/argon2';

/** argon2id (the library's default kind) at the parameters OWASP's password storage cheat sheet names first (19 MiB, 2 passes, 1 lane; from memory). */
const PARAMETERS = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

export const hashPassword = (password: string): Promise<string> => hash(password, PARAMETERS);

let decoy: Promise<string> | undefined;

/** False also for an unknown person, after the same work, so that timing tells nothing. */
export async function verifyPassword(digest: string | null, password: string): Promise<boolean> {
  decoy ??= hashPassword('no such account');
  const matches = await verify(digest ?? (await decoy), password);
  return digest !== null && matches;
}
