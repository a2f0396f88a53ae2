import { describe, expect, it } from 'vitest';
import { ELEMENT_IDS, ELEMENTS, sidesOf } from '@/lib/skeletons/elements';
import { damageInBook, mergeDamage, readDamage } from '@/lib/skeletons/rules/damage';
import { makeEntry } from '@/lib/skeletons/rules/entries';

describe('broken bones as the bench wrote them', () => {
  it.each([
    ['left humerus', ['humerus/left/broken']],
    ['Right tibiotarsus', ['tibiotarsus/right/broken']],
    ['both ulnae', ['ulna/left/broken', 'ulna/right/broken']],
    ['right radii', ['radius/right/broken']],
    ['left tarsus shattered', ['tarsometatarsus/left/broken']],
    ['right tarsometatarsus', ['tarsometatarsus/right/broken']],
    ['keel', ['sternum/unpaired/broken']],
    ['skull, hind part', ['cranium/unpaired/broken']],
    ['left coracoid missing', ['coracoid/left/missing']],
    ['hallux of the left foot gone', ['toe-1/left/missing']],
    ['wishbone', ['furcula/unpaired/broken']],
  ])('%s', (item, expected) => {
    const { damage, unread } = readDamage([item]);
    expect(damage.map((one) => `${one.element}/${one.side}/${one.state}`)).toEqual(expected);
    expect(unread).toEqual([]);
  });

  it('hands back what it cannot place instead of guessing a bone or a side', () => {
    const items = ['humerus', 'left wing', 'several', ''];
    expect(readDamage(items)).toEqual({ damage: [], unread: items });
  });

  it('reads every element by its own name, term and id', () => {
    for (const id of ELEMENT_IDS) {
      for (const side of sidesOf(id)) {
        for (const name of [ELEMENTS[id].name, ELEMENTS[id].term, id]) {
          const text = side === 'unpaired' ? name : `${side} ${name}`;
          expect(readDamage([text]).damage, text).toEqual([{ element: id, side, state: 'broken' }]);
        }
      }
    }
  });
});

describe('damage in the book', () => {
  it('is broken where a part is, missing where nothing is left', () => {
    const book = [
      makeEntry('humerus', 'left', { state: 'broken', place: 'skin' }),
      makeEntry('ulna', 'left', { portion: 'proximal', state: 'missing' }),
      makeEntry('ulna', 'left', { portion: 'distal', place: 'skin' }),
      makeEntry('radius', 'right', { state: 'missing' }),
      makeEntry('femur', 'right', { place: 'skeleton' }),
    ];
    expect(damageInBook(book)).toEqual([
      { element: 'humerus', side: 'left', state: 'broken' },
      { element: 'radius', side: 'right', state: 'missing' },
      { element: 'ulna', side: 'left', state: 'broken' },
    ]);
  });

  it('counts each element once, the later source holding', () => {
    const broken = { element: 'femur', side: 'left', state: 'broken' } as const;
    const missing = { ...broken, state: 'missing' } as const;
    expect(mergeDamage([broken], [missing])).toEqual([missing]);
  });
});
