import { phrases, wordOf } from '@/lib/platform/words/say';
import { SIZE_CLASSES } from '@/lib/queue/schema';
import type { QueueChoices } from '@/lib/queue/settings-wire';

type Figure = { name: string; label: string; unit?: string; step?: number };
export type Group = {
  key: Exclude<keyof QueueChoices, 'weights'>;
  title: string;
  note: string;
  figures: Figure[];
};

/** The queue's figures as a person reads them. */
export const GROUPS: readonly Group[] = phrases(
  [
    {
      key: 'scales',
      title: 'Where urgency is full',
      note: 'Start values: common practice, no source.',
      figures: [
        { name: 'freezerDaysFull', label: 'Time in the freezer counts fully after', unit: 'days' },
        { name: 'permitDaysHorizon', label: 'A permit deadline counts from', unit: 'days ahead' },
        { name: 'tissueHalfLifeDays', label: 'Tissue loses half its worth in', unit: 'days' },
        { name: 'tissueSafeAtC', label: 'Tissue keeps at or below', unit: '°C' },
        { name: 'jobMinutesFull', label: 'A job counts as large from', unit: 'min' },
      ],
    },
    {
      key: 'claims',
      title: 'Claims',
      note: 'Nobody loses a bird without having been told first.',
      figures: [
        { name: 'maxOpenClaims', label: 'Birds a volunteer may have at once', unit: 'birds' },
        { name: 'claimDays', label: 'A claim lasts', unit: 'days' },
        { name: 'noticeDays', label: 'The person is told ahead', unit: 'days' },
      ],
    },
    {
      key: 'plan',
      title: 'Day plan',
      note: 'Points are weighed against a priority of 0 to 100.',
      figures: [
        { name: 'benchPlaces', label: 'Bench places', unit: 'places' },
        { name: 'traineesPerSupervisor', label: 'Beside one supervisor at most', unit: 'people' },
        { name: 'supervisionMinutes', label: 'A supervisor gives each of them', unit: 'min a day' },
        { name: 'supervisedFactor', label: 'Somebody supervised takes', unit: '× as long', step: 0.1 },
        { name: 'trainingFactor', label: 'Somebody who learns takes', unit: '× as long', step: 0.1 },
        { name: 'maxBirdsPerPerson', label: 'Birds a person and day at most', unit: 'birds' },
        { name: 'idlePoints', label: 'Going home without a bird costs', unit: 'points' },
        { name: 'balancePoints', label: 'Even hours over the season count', unit: 'points' },
        { name: 'sizeFairness', label: 'Large birds count by their hours (0 to 1)', step: 0.1 },
      ],
    },
    {
      key: 'leadHours',
      title: 'Out of the freezer ahead of work',
      note: 'Common practice, no source; a setting of the lab.',
      figures: SIZE_CLASSES.map((size) => ({ name: size, label: wordOf(size), unit: 'h' })),
    },
  ],
  ['unit'],
);
