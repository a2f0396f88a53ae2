'use client';

import { Button, Checkbox, Group, Radio, Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { damageInBook, mergeDamage } from '@/lib/skeletons/rules/damage';
import { proposeSides } from '@/lib/skeletons/rules/sides';
import {
  CUT_THROUGH_THE_SHAFT,
  DEFAULT_SPLITS,
  type LimbSide,
  type SplitLine,
  splitBook,
} from '@/lib/skeletons/rules/split';
import type { BoneBook, BoneEntry } from '@/lib/skeletons/schema';
import type { SkeletonProfile } from '@/lib/skeletons/taxa';

const LIMBS = ['wing', 'leg'] as const;
type Limb = (typeof LIMBS)[number];

/** Whether the style's split asks for a side of this limb, and what the chosen side is for. */
function purposeOfLimb(lines: readonly SplitLine[], limb: Limb): 'skeleton' | 'spread' | null {
  const own = lines.filter((line) => line.limb && touches(line, limb));
  if (own.length === 0) return null;
  return own.some((line) => line.limb === 'chosen' && line.place === 'wing') ? 'spread' : 'skeleton';
}

/** Lines name a wing by its region and a leg by its bones below the knee. */
const touches = (line: SplitLine, limb: Limb): boolean =>
  limb === 'wing'
    ? (line.regions?.includes('wing') ?? false) || (line.elements?.includes('humerus') ?? false)
    : (line.regions?.includes('leg') ?? false) || (line.elements?.includes('tibiotarsus') ?? false);

/** Fills the book with the usual split of the style; proposes the sides from the recorded breaks and says why. */
export function SplitForm({
  book,
  entries,
  profile,
  onFill,
}: {
  book: BoneBook;
  entries: readonly BoneEntry[];
  profile: SkeletonProfile;
  onFill: (entries: BoneEntry[]) => void;
}) {
  const [chosen, setChosen] = useState<Partial<Record<Limb, LimbSide>>>({});
  const [cut, setCut] = useState(false);
  const [filled, setFilled] = useState<string | null>(null);
  const lines = DEFAULT_SPLITS[book.styleId ?? ''] ?? [];
  if (lines.length === 0) return <p>{say('No preparation style is chosen, so there is no usual split.')}</p>;
  const damage = mergeDamage(book.recordedDamage, damageInBook(entries));
  const proposal = proposeSides(damage, book.usualSide);
  const sides = { wing: chosen.wing ?? proposal.wing.side, leg: chosen.leg ?? proposal.leg.side };
  const mayCut = purposeOfLimb(lines, 'wing') === 'skeleton';
  const fill = () => {
    const made = splitBook(cut && mayCut ? [...lines, ...CUT_THROUGH_THE_SHAFT] : lines, sides, {
      profile,
      damage,
    });
    onFill(made);
    setFilled(say('Filled {of}. “Undo” brings back what was there.', { of: countOf(made.length, 'line') }));
  };
  return (
    <Stack gap="sm">
      {LIMBS.map((limb) => {
        const purpose = purposeOfLimb(lines, limb);
        if (purpose === null) return null;
        return (
          <Radio.Group
            key={limb}
            label={
              purpose === 'spread'
                ? say('{word} to spread', { word: sayWord(limb) })
                : say('{word} for the skeleton', { word: sayWord(limb) })
            }
            description={proposal[limb].reason}
            value={sides[limb]}
            onChange={(side) => setChosen((before) => ({ ...before, [limb]: side as LimbSide }))}
          >
            <Group gap="lg" mt={4}>
              <Radio value="left" label={say('Left|side')} />
              <Radio value="right" label={say('Right')} />
            </Group>
          </Radio.Group>
        );
      })}
      {mayCut && (
        <Checkbox
          label={say('Bones that stay in the skin are cut through the shaft')}
          checked={cut}
          onChange={(event) => setCut(event.currentTarget.checked)}
        />
      )}
      {book.unreadDamage.length > 0 && (
        <Text size="sm">
          {say('Written at the bench, but not read as a bone with its side: {unreadDamage}.', {
            unreadDamage: book.unreadDamage.join('; '),
          })}
        </Text>
      )}
      <div>
        <Button variant={entries.length === 0 ? 'filled' : 'default'} onClick={fill}>
          {say('Fill the usual split')}
        </Button>
      </div>
      <Text size="sm" role="status">
        {filled ?? say('{word}: what is broken or missing stays so.', { word: sayWord(book.styleId ?? '') })}
      </Text>
    </Stack>
  );
}
