import { Table } from '@mantine/core';
import { say, sayWord } from '@/lib/platform/words/say';
import { elementName } from '@/lib/skeletons/elements';
import { measureCompleteness, type Share } from '@/lib/skeletons/rules/completeness';
import { assessMeasurements, comparableMeasurements } from '@/lib/skeletons/rules/measurements';
import type { BoneEntry } from '@/lib/skeletons/schema';
import type { SkeletonProfile } from '@/lib/skeletons/taxa';
import { REGION_NAMES, REGIONS, SIDES } from '@/lib/skeletons/words';

const sayShare = ({ expected, present, intact }: Share): string => {
  if (expected === 0) return '';
  const broken = present - intact;
  return say('{present} of {expected}{x}', {
    present,
    expected,
    x: broken > 0 ? say(', {broken} broken', { broken }) : '',
  });
};

/** How much of the bird lies in its skeleton, by region and side, and what can still be measured there. */
export function BoneCompleteness({
  entries,
  profile,
}: {
  entries: readonly BoneEntry[];
  profile: SkeletonProfile;
}) {
  const shares = measureCompleteness(entries, ['skeleton'], profile);
  const measurements = assessMeasurements(entries);
  const comparable = comparableMeasurements(measurements);
  const lost = measurements.filter(({ usability }) => usability !== 'comparable');
  return (
    <>
      <Table aria-label={say('Elements in the skeleton')} maw={560}>
        <Table.Thead>
          <Table.Tr>
            {[say('Region'), ...SIDES].map((head) => (
              <Table.Th key={head} scope="col">
                {sayWord(head)}
              </Table.Th>
            ))}
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {REGIONS.map((region) => (
            <Table.Tr key={region}>
              <Table.Th scope="row" fw={400}>
                {sayWord(REGION_NAMES[region])}
              </Table.Th>
              {SIDES.map((side) => (
                <Table.Td key={side}>{sayShare(shares.byRegionAndSide[region][side])}</Table.Td>
              ))}
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
      <details>
        <summary>
          {say('{length} of {size} usual bone measurements can be taken', {
            length: comparable.length,
            size: new Set(measurements.map(({ measurement }) => measurement.id)).size,
          })}
        </summary>
        <ul>
          {lost.map(({ measurement, side, usability, reason }) => (
            <li key={`${measurement.id}/${side}`}>
              {sayWord(elementName(measurement.element, side))}, {measurement.name}:{' '}
              {usability === 'doubtful' ? say('doubtful') : say('not to be had')}. {reason}
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}
