import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils';
import * as glue from '@prisma/schema-engine-wasm/schema_engine_bg';
import pg from 'pg';

export type SchemaEngine = glue.SchemaEngine;

/** OID of PostgreSQL's one-byte type "char", which the catalogues use and the adapter does not know. */
const charOid = 18;
const textOid = 25;

let isLoaded = false;

/** The engine is a WebAssembly module whose own loader needs a bundler; Node instantiates it by hand. */
async function loadEngine(): Promise<void> {
  if (isLoaded) return;
  // Where the engine reports its own faults; without it they would show as a fault in its glue code.
  (globalThis as Record<string, unknown>).PRISMA_WASM_PANIC_REGISTRY = {
    set_message: (message: string) => console.error(message),
  };
  const file = createRequire(import.meta.url)
    .resolve('@prisma/schema-engine-wasm/schema_engine_bg')
    .replace(/\.js$/, '.wasm');
  const { instance } = await WebAssembly.instantiate(readFileSync(file), {
    './schema_engine_bg.js': glue as unknown as WebAssembly.ModuleImports,
  });
  const { __wbg_set_wasm: setWasm } = glue as unknown as { __wbg_set_wasm(exports: unknown): void };
  setWasm(instance.exports);
  (instance.exports.__wbindgen_start as () => void)();
  isLoaded = true;
}

/**
 * Runs `work` with Prisma's schema engine connected to a database, and closes the connections afterwards.
 * Only for an embedded or installed PostgreSQL that may be changed: the engine writes.
 */
export async function withSchemaEngine<T>(
  databaseUrl: string,
  work: (engine: SchemaEngine) => Promise<T>,
): Promise<T> {
  await loadEngine();
  const pool = new CataloguePool({ connectionString: databaseUrl, max: 2 });
  pool.on('error', () => undefined);
  const factory = bindMigrationAwareSqlAdapterFactory(new WholeScriptAdapterFactory(pool));
  const engine = await glue.SchemaEngine.new({ datamodels: undefined }, () => undefined, factory);
  try {
    return await work(engine);
  } finally {
    engine.free();
    await pool.end();
  }
}

/**
 * The adapter cuts a script at every semicolon and sends the pieces one by one, which breaks functions and
 * texts that contain one and leaves half a migration behind when a later piece fails. Here a script goes to
 * the server whole, which runs it as one transaction (unless the script says otherwise itself).
 */
class WholeScriptAdapterFactory extends PrismaPg {
  constructor(private readonly pool: pg.Pool) {
    super(pool);
  }

  override async connect(): ReturnType<PrismaPg['connect']> {
    return mendAdapter(await super.connect());
  }

  /** The scratch database in which migrations are replayed; dropped again when the engine is done with it. */
  override async connectToShadowDb(): ReturnType<PrismaPg['connectToShadowDb']> {
    const database = `furcula_replay_${randomUUID()}`;
    await this.pool.query(`create database "${database}"`);
    const replayUrl = new URL(this.pool.options.connectionString ?? '');
    replayUrl.pathname = `/${database}`;
    const replayPool = new CataloguePool({ connectionString: replayUrl.href, max: 2 });
    const adapter = mendAdapter(await new PrismaPg(replayPool).connect());
    adapter.dispose = async () => {
      await replayPool.end();
      await this.pool.query(`drop database "${database}"`);
    };
    return adapter;
  }
}

type Adapter = Awaited<ReturnType<PrismaPg['connect']>>;

function mendAdapter(adapter: Adapter): Adapter {
  adapter.executeScript = async (sql) => {
    // Without arguments this is PostgreSQL's simple query, which takes any number of statements.
    await adapter.executeRaw({ sql, args: [], argTypes: [] });
  };
  const queryRaw = adapter.queryRaw.bind(adapter);
  adapter.queryRaw = async (query) => {
    const answer = await queryRaw(query);
    for (const column of charColumns.get(answer.rows) ?? []) {
      answer.columnTypes[column] = ColumnTypeEnum.Character;
    }
    return answer;
  };
  return adapter;
}

/** Which columns of an answer are of the type "char", by the rows of the answer. */
const charColumns = new WeakMap<object, number[]>();

/** The adapter refuses columns of the type "char", so they pass it as text and are remembered. */
class CataloguePool extends pg.Pool {
  // biome-ignore lint/suspicious/noExplicitAny: pg declares `query` with a dozen overloads that cannot be named one by one.
  override async query(...args: any[]): Promise<any> {
    const result = await (super.query as (...all: unknown[]) => Promise<pg.QueryResult>)(...args);
    const columns: number[] = [];
    for (const [column, field] of (result.fields ?? []).entries()) {
      if (field.dataTypeID !== charOid) continue;
      field.dataTypeID = textOid;
      columns.push(column);
    }
    if (columns.length > 0) charColumns.set(result.rows, columns);
    return result;
  }
}
