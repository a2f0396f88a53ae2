'use client';

import { Text } from '@mantine/core';
import { say } from '@/lib/platform/words/say';
import { divideElement, joinElement, keyEntries, makeEntry } from '@/lib/skeletons/rules/entries';
import { type BoneEntry, type BonePatch, boneEntrySchema } from '@/lib/skeletons/schema';
import { BoneEditor } from './bone-editor';

/** The entry that a key of the drawing names: the book's own, or what the book is silent about. */
function entryAt(entries: readonly BoneEntry[], key: string | null): BoneEntry | null {
  if (key === null) return null;
  const own = keyEntries(entries).find((one) => one.key === key)?.entry;
  if (own !== undefined) return own;
  const [element, side, portion] = key.split('/');
  const named = boneEntrySchema.safeParse({ element, side, portion });
  return named.success
    ? makeEntry(named.data.element, named.data.side, { portion: named.data.portion })
    : null;
}

/** The bone that was pressed on the drawing, or how to press one. */
export function ChosenBone({
  entries,
  chosenKey,
  readOnly,
  onChange,
  onWrite,
}: {
  entries: readonly BoneEntry[];
  chosenKey: string | null;
  readOnly: boolean;
  onChange: (key: string, patch: BonePatch) => void;
  /** The book after a cut or a joining, and the bone to look at then. */
  onWrite: (entries: BoneEntry[], key: string) => void;
}) {
  const entry = entryAt(entries, chosenKey);
  if (entry === null || chosenKey === null) {
    return (
      <Text size="sm">
        {readOnly
          ? say('Press a bone to see where it is.')
          : say(
              'Press a bone to say where it goes. With the keyboard: Tab and the arrows lead from bone to bone, 1–8 set a place, 0 clears it, w, b and m say whole, broken, missing.',
            )}
      </Text>
    );
  }
  const known = keyEntries(entries).some(({ key }) => key === chosenKey);
  return (
    <section aria-label={say('The chosen bone')}>
      <BoneEditor
        entry={entry}
        readOnly={readOnly}
        onPatch={(patch) => onChange(chosenKey, patch)}
        onDivide={() =>
          onWrite(
            divideElement(known ? entries : [...entries, entry], chosenKey),
            chosenKey.replace('/whole', '/proximal'),
          )
        }
        onJoin={() =>
          onWrite(joinElement(entries, chosenKey), chosenKey.replace(/\/(proximal|distal)$/, '/whole'))
        }
      />
    </section>
  );
}
