import { formatSeconds } from './command';
import { generateClient } from './generate';
import { Lifetime } from './lifetime';
import { explainError, OperatorError } from './operator-error';
import { makeScratchDir, removeScratchDir } from './scratch-dir';
import { addCounts, type Counts, formatCounts } from './test-results';
import { type Stage, type StageContext, stages } from './test-stages';

const lifetime = new Lifetime();

async function main(): Promise<void> {
  const chosen = chooseStages(process.argv.slice(2));
  const scratchDir = makeScratchDir('results');
  await lifetime.onEnd(() => removeScratchDir(scratchDir));
  generateClient();
  let total: Counts = { passed: 0, failed: 0, skipped: 0 };
  for (const stage of chosen) {
    if (lifetime.isEnding) return;
    total = addCounts(total, await runStage(stage, { lifetime, scratchDir }));
  }
  console.log(`\n${formatCounts(total)}`);
  await lifetime.end(total.failed > 0 ? 1 : 0);
}

function chooseStages(ids: readonly string[]): readonly Stage[] {
  for (const id of ids) {
    if (!stages.some((stage) => stage.id === id)) {
      throw new OperatorError(
        `There is no stage "${id}"; there are ${stages.map((stage) => stage.id).join(', ')}.`,
      );
    }
  }
  return ids.length === 0 ? stages : stages.filter((stage) => ids.includes(stage.id));
}

async function runStage(stage: Stage, context: StageContext): Promise<Counts> {
  const startedAt = performance.now();
  const say = (counts: Counts) =>
    console.log(
      `${stage.title.padEnd(28)}${formatCounts(counts).padEnd(40)}${formatSeconds(performance.now() - startedAt)}`,
    );
  try {
    const { counts, skippedNames, output } = await stage.run(context);
    if (context.lifetime.isEnding) return counts;
    if (counts.failed > 0) console.log(`\n${output.trimEnd()}\n`);
    for (const name of skippedNames) console.log(`  skipped: ${name}`);
    say(counts);
    return counts;
  } catch (error) {
    console.log(explainError(error));
    const counts = { passed: 0, failed: 1, skipped: 0 };
    say(counts);
    return counts;
  }
}

main().catch((error) => lifetime.fail(error));
