// Plain JavaScript, because it runs before anything is installed: it sees to Node and the packages and then
// hands over to TypeScript.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const wantedNode = [20, 19];
const parentAtStart = process.ppid;

/** Ends with one sentence when this Node is too old. */
function checkNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  const [wantedMajor, wantedMinor] = wantedNode;
  if (major > wantedMajor || (major === wantedMajor && minor >= wantedMinor)) return;
  fail(
    `Furcula needs Node ${wantedNode.join('.')} or newer and this is ${process.versions.node}: install a newer one.`,
  );
}

/** Installs the packages when they are missing or are not those of package-lock.json. */
function ensurePackages() {
  if (packagesMatchLock()) return;
  const startedAt = performance.now();
  console.log('Installing packages (once, and again when package-lock.json changes)');
  // What is named "dev" is needed for building and testing, also where NODE_ENV says production.
  const args = ['ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'];
  const npm = process.env.npm_execpath;
  const run = npm?.endsWith('.js')
    ? spawnSync(process.execPath, [npm, ...args], { cwd: root, stdio: 'inherit' })
    : spawnSync('npm', args, { cwd: root, stdio: 'inherit' });
  if (run.error) fail(`The packages cannot be installed, npm does not start: ${run.error.message}`);
  if (run.status !== 0) fail('The packages could not be installed: npm ci says why in the lines above.');
  console.log(`Packages installed in ${((performance.now() - startedAt) / 1000).toFixed(1)} s`);
}

/** npm writes what it installed to a file of its own; optional packages are for other machines and may lack. */
function packagesMatchLock() {
  const installedFile = path.join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(installedFile)) return false;
  const { packages: wanted } = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8'));
  const { packages: installed } = JSON.parse(readFileSync(installedFile, 'utf8'));
  return Object.entries(wanted).every(([name, { version, optional, devOptional }]) => {
    if (name === '') return true;
    const found = existsSync(path.join(root, name, 'package.json')) ? installed[name] : undefined;
    return found ? found.version === version : Boolean(optional || devOptional);
  });
}

function fail(sentence) {
  console.error(sentence);
  process.exit(1);
}

/**
 * Checks Node and packages, then runs a TypeScript file of lib/ops and ends as it ends. The file hears of
 * Ctrl-C, and of our own end even by SIGKILL (its channel to us closes), and stops what it started.
 */
export function runTypeScript(file) {
  checkNode();
  ensurePackages();
  const flags = ['--conditions=react-server', '--import', 'tsx'];
  const child = spawn(
    process.execPath,
    [...flags, path.join(root, 'lib', 'ops', file), ...process.argv.slice(2)],
    {
      cwd: root,
      stdio: ['inherit', 'inherit', 'inherit', 'ipc'],
      // A group of its own, so that Ctrl-C reaches it once and through us.
      detached: true,
      env: { ...process.env, NEXT_TELEMETRY_DISABLED: '1' },
    },
  );
  const pass = (signal) => child.kill(signal);
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => pass(signal));
  watchParent(() => pass('SIGTERM'));
  child.on('exit', (code) => process.exit(code ?? 1));
}

/**
 * When npm is killed it cannot tell us, but a process whose parent has gone gets another one. (The scripts in
 * package.json say "exec" so that npm is the parent, and not a shell between it and us.)
 */
function watchParent(onGone) {
  if (!process.env.npm_lifecycle_event) return;
  setInterval(() => process.ppid !== parentAtStart && onGone(), 300).unref();
}
