import type { ComputeTask } from './compute';
import { type PlanOutcome, planDay } from './plan';
import { type Forecast, forecastBacklog } from './rules/forecast';

/** What the computing thread does with a task. */
export async function doTask(task: ComputeTask): Promise<PlanOutcome | Forecast> {
  return task.kind === 'plan' ? planDay(task.problem, task.seconds) : forecastBacklog(task.input);
}
