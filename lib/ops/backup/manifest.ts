import { createHash } from 'node:crypto';
import { createReadStream, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { z } from 'zod';
import { chainAnchor } from '@/lib/audit/schema';
import { OperatorError } from '../operator-error';

const MANIFEST = 'manifest.json';
/** The digest of the manifest itself, in the form the command `sha256sum --check` reads. */
const MANIFEST_SUM = 'manifest.sha256';

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);

/** What a backup holds: enough to prove, after a restore, that nothing is missing and nothing was changed. */
export const manifestSchema = z.object({
  format: z.literal('furcula-backup'),
  edition: z.literal(1),
  madeAt: z.iso.datetime(),
  migration: z.string(),
  /** Rows of every table, and the digest of its CSV. */
  tables: z.record(z.string(), z.object({ rows: z.int(), sha256 })),
  /** Background work that was waiting. */
  jobs: z.int(),
  /** The ends of the audit chains. */
  heads: z.array(chainAnchor),
  /** Every file of the backup but the manifest, by its path inside. */
  files: z.array(z.object({ path: z.string(), bytes: z.int(), sha256 })),
  /** Stored copies that were already missing or changed in the installation itself. */
  damaged: z.array(z.string()),
});
export type Manifest = z.infer<typeof manifestSchema>;

export async function digestFile(file: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(file), hash);
  return hash.digest('hex');
}

const digestText = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');

export function writeManifest(folder: string, manifest: Manifest): void {
  const text = `${JSON.stringify(manifestSchema.parse(manifest), null, 2)}\n`;
  writeFileSync(path.join(folder, MANIFEST), text, { mode: 0o600 });
  writeFileSync(path.join(folder, MANIFEST_SUM), `${digestText(text)}  ${MANIFEST}\n`, { mode: 0o600 });
}

/** Every file under a folder, by its path inside, with slashes. */
function listFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'))
    .sort();
}

/**
 * Reads a backup's manifest and checks every file against it.
 * @throws OperatorError that names the first file that is missing, changed, or not of the backup.
 */
export async function checkBackup(folder: string): Promise<Manifest> {
  const file = path.join(folder, MANIFEST);
  if (!existsSync(file))
    throw new OperatorError(
      `${folder} is not a backup: it has no ${MANIFEST}. Give the folder that holds it.`,
    );
  const text = readFileSync(file, 'utf8');
  const sumFile = path.join(folder, MANIFEST_SUM);
  const sum = existsSync(sumFile) ? readFileSync(sumFile, 'utf8') : '';
  if (sum !== `${digestText(text)}  ${MANIFEST}\n`) throw damaged(MANIFEST, 'does not give its checksum');
  const manifest = manifestSchema.parse(JSON.parse(text));
  const there = new Set(listFiles(folder));
  for (const known of [MANIFEST, MANIFEST_SUM]) there.delete(known);
  for (const { path: name, sha256: wanted } of manifest.files) {
    if (!there.delete(name)) throw damaged(name, 'is missing');
    if ((await digestFile(path.join(folder, name))) !== wanted)
      throw damaged(name, 'does not give its checksum');
  }
  const [odd] = there;
  if (odd !== undefined) throw damaged(odd, 'does not belong to it');
  return manifest;
}

const damaged = (name: string, what: string) =>
  new OperatorError(
    `The backup is damaged: ${name} ${what}. Nothing was restored; take another backup, or a better copy of this one.`,
  );
