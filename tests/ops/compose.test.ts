import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { projectRoot } from '@/lib/ops/project';
import { FEW_POOLS, HEAP_GROWTH } from '@/lib/ops/web';

interface Service {
  image?: string;
  build?: string;
  command?: string[];
  depends_on?: Record<string, { condition: string }>;
  environment?: Record<string, string>;
  configs?: { source: string }[];
  volumes?: string[];
  networks?: string[];
  deploy?: { replicas?: number };
}
interface Compose {
  services: Record<string, Service>;
  configs: Record<string, { content: string }>;
  volumes: Record<string, null>;
  networks: Record<string, null>;
}

const text = readFileSync(path.join(projectRoot, 'docker-compose.yml'), 'utf8');
const compose = parse(text, { merge: true }) as Compose;
const services = Object.entries(compose.services);

/**
 * The JSON schema of the Compose specification (github.com/compose-spec/compose-spec, schema/compose-spec.json),
 * as the package dclint carries it. No engine runs here, so this and the checks below are all that is tested.
 */
function loadSpecification(): object {
  const main = createRequire(import.meta.url).resolve('dclint');
  const packageDir = main.slice(0, main.lastIndexOf(`${path.sep}dclint${path.sep}`) + '/dclint/'.length);
  return JSON.parse(readFileSync(path.join(packageDir, 'schemas', 'compose.schema.json'), 'utf8'));
}

describe('docker-compose.yml', () => {
  const { $schema: _, ...specification } = loadSpecification() as { $schema: string };
  const ajv = new Ajv({ strict: false, allErrors: true });
  addFormats(ajv);
  const validate = ajv.compile(specification);

  it('follows the schema of the Compose specification', () => {
    validate(compose);
    expect(validate.errors).toBeNull();
  });

  it('would not pass with a key the specification does not know', () => {
    expect(validate({ services: { app: { image: 'x', replicas: 2 } } })).toBe(false);
  });

  it('has replicas behind a proxy, a database, a worker and backups', () => {
    expect(Object.keys(compose.services).sort()).toEqual([
      'app',
      'backup',
      'database',
      'migrate',
      'proxy',
      'worker',
    ]);
    expect(compose.services.app?.deploy?.replicas).toBeGreaterThan(1);
    const published = services.filter(([, service]) => 'ports' in service).map(([name]) => name);
    expect(published).toEqual(['proxy']);
  });

  it('runs the pages with as little memory as npm start does', () => {
    const image = readFileSync(path.join(projectRoot, 'Dockerfile'), 'utf8');
    expect(image).toContain(`CMD ["node", "${HEAP_GROWTH}", "node_modules/next/dist/bin/next", "start",`);
    for (const [name, value] of Object.entries(FEW_POOLS)) expect(image).toContain(` ${name}=${value}`);
  });

  it('names only services, configs, volumes and networks that it defines', () => {
    for (const [, service] of services) {
      for (const other of Object.keys(service.depends_on ?? {}))
        expect(compose.services).toHaveProperty(other);
      for (const { source } of service.configs ?? []) expect(compose.configs).toHaveProperty(source);
      for (const volume of service.volumes ?? [])
        expect(compose.volumes).toHaveProperty(volume.split(':')[0] ?? '');
      for (const network of service.networks ?? []) expect(compose.networks).toHaveProperty(network);
    }
  });

  it('makes backups of the files volume every night, into a volume of their own', () => {
    for (const name of ['worker', 'backup']) {
      const { volumes = [], environment = {} } = compose.services[name] ?? {};
      expect(volumes).toEqual(['files:/data', 'backups:/backups']);
      expect(environment.BACKUP_DIR).toBe('/backups');
      expect(environment.DATABASE_URL).toBe(compose.services.app?.environment?.DATABASE_URL);
    }
    expect(compose.services.app?.environment).not.toHaveProperty('BACKUP_DIR');
  });

  it('runs scripts that package.json has', () => {
    const { scripts } = JSON.parse(readFileSync(path.join(projectRoot, 'package.json'), 'utf8'));
    const called = services.flatMap(([, { command }]) =>
      command?.[0] === 'npm' ? [command.at(-1) ?? ''] : [],
    );
    expect(called.length).toBeGreaterThan(0);
    for (const script of called) expect(scripts).toHaveProperty([script]);
  });

  it('keeps no secret in the file and demands those it needs', () => {
    expect(text).toMatch(/\$\{DATABASE_PASSWORD:\?/);
    expect(text).toMatch(/\$\{NEXTAUTH_SECRET:\?/);
    for (const [, { environment = {} }] of services) {
      for (const [name, value] of Object.entries(environment)) {
        if (/PASSWORD|SECRET/.test(name)) expect(value).toMatch(/^\$\{/);
      }
    }
  });
});
