import { existsSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { connectTo } from './connect';
import { migrateDatabase } from './migrate';
import { projectRoot } from './project';
import { withSchemaEngine } from './schema-engine';

/** A demo sign-in, printed at the start and offered on the sign-in page. */
export interface DemoSignIn {
  role: string;
  email: string;
  password: string;
}

interface Scenario {
  loadScenario(databaseUrl: string): Promise<void>;
  demoSignIns?: readonly DemoSignIn[];
}

/** Kept as the comment of the schema while the scenario is being loaded. */
const loadingMark = 'demo scenario unfinished';

/**
 * Brings the database up to this code. A demo scenario whose loading was cut short is wiped first, so that a
 * demo is whole or not there.
 */
export async function prepareDatabase(databaseUrl: string): Promise<void> {
  if ((await readMark(databaseUrl)) === loadingMark) {
    await withSchemaEngine(databaseUrl, (engine) =>
      engine.reset({ filter: { externalTables: [], externalEnums: [] } }),
    );
  }
  await migrateDatabase(databaseUrl);
}

/** Loads the demo scenario into a migrated database in which there is nobody yet. Returns whether it did. */
export async function loadDemo(databaseUrl: string): Promise<boolean> {
  if (!(await isEmpty(databaseUrl))) return false;
  const scenario = await importScenario();
  if (!scenario) return false;
  await writeMark(databaseUrl, loadingMark);
  await scenario.loadScenario(databaseUrl);
  await writeMark(databaseUrl, undefined);
  return true;
}

/** The sign-ins of the demo scenario, none where it does not name any. */
export async function listDemoSignIns(): Promise<readonly DemoSignIn[]> {
  return (await importScenario())?.demoSignIns ?? [];
}

async function importScenario(): Promise<Scenario | undefined> {
  const file = path.join(projectRoot, 'seed', 'scenario', 'index.ts');
  if (!existsSync(file)) return undefined;
  return (await import(pathToFileURL(file).href)) as Scenario;
}

async function isEmpty(databaseUrl: string): Promise<boolean> {
  const rows = await query(databaseUrl, 'select not exists (select from "Person") as answer');
  return rows[0]?.answer === true;
}

async function readMark(databaseUrl: string): Promise<unknown> {
  const rows = await query(databaseUrl, `select obj_description('public'::regnamespace) as answer`);
  return rows[0]?.answer;
}

async function writeMark(databaseUrl: string, mark: string | undefined): Promise<void> {
  await query(databaseUrl, `comment on schema public is ${mark === undefined ? 'null' : `'${mark}'`}`);
}

async function query(databaseUrl: string, sql: string): Promise<Record<string, unknown>[]> {
  const client = await connectTo(databaseUrl);
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}
