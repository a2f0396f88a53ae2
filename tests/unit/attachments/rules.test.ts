import { describe, expect, it } from 'vitest';
import { maySeeFile, maySeeOriginal, maySeeWords } from '@/lib/attachments/policy';
import { kindOf, safeFileName } from '@/lib/attachments/rules';
import type { Role } from '@/lib/platform/permissions';

const bytes = (text: string) => Uint8Array.from([...text].map((letter) => letter.charCodeAt(0)));

describe('what a file is', () => {
  it.each([
    ['a JPEG', [0xff, 0xd8, 0xff, 0xe0], 'image/jpeg'],
    ['a PNG', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a], 'image/png'],
    ['a TIFF, little-endian', [0x49, 0x49, 0x2a, 0x00], 'image/tiff'],
    ['a TIFF, big-endian', [0x4d, 0x4d, 0x00, 0x2a], 'image/tiff'],
    ['a WebP', [...bytes('RIFF....WEBPVP8 ')], 'image/webp'],
    ['a whole PDF', [...bytes('%PDF-1.7 … trailer %%EOF\n')], 'application/pdf'],
  ])('%s', (_, content, kind) => {
    expect(kindOf(Uint8Array.from(content))).toEqual({ ok: true, kind });
  });

  it.each([
    ['nothing', '', /neither a photo nor a PDF/],
    ['a page', '<!doctype html><script>alert(1)</script>', /neither a photo nor a PDF/],
    ['a drawing with a script', '<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>', /neither/],
    ['a PDF cut short', '%PDF-1.7 1 0 obj', /cut short/],
    ['a phone’s HEIC', '\u0000\u0000\u0000\u0018ftypheic', /HEIC/],
  ])('refuses %s', (_, content, reason) => {
    const verdict = kindOf(bytes(content));
    expect(verdict.ok).toBe(false);
    if (!verdict.ok) expect(verdict.reason).toMatch(reason);
  });

  it('names a file after its content, without folders', () => {
    expect(safeFileName('../../etc/wing.exe', 'image/jpeg')).toBe('wing.jpg');
    expect(safeFileName('C:\\photos\\skull "left".PNG', 'image/png')).toBe('skull left.png');
    expect(safeFileName('.htaccess', 'application/pdf')).toBe('file.pdf');
  });
});

describe('who sees a file', () => {
  const as = (role: Role) => ({ personId: 'p', roles: [role] });
  const photo = { subjectType: 'bird', isPicture: true, sensitive: false, approved: true };

  it('a visitor sees copies of pictures of catalogued birds only', () => {
    const visitor = as('visitor');
    expect(maySeeFile(visitor, photo)).toBe(true);
    expect(maySeeOriginal(visitor, photo)).toBe(false);
    for (const one of [
      { approved: false },
      { isPicture: false },
      { subjectType: 'salvage' },
      { subjectType: 'loan-line' },
    ])
      expect(maySeeFile(visitor, { ...photo, ...one }), JSON.stringify(one)).toBe(false);
    expect(maySeeWords(visitor, { ...photo, sensitive: true })).toBe(false);
  });

  it('of a sensitive bird a volunteer sees the copy, a preparator the original', () => {
    const rare = { ...photo, subjectType: 'salvage', sensitive: true, approved: false };
    expect(maySeeFile(as('volunteer'), rare)).toBe(true);
    expect(maySeeOriginal(as('volunteer'), rare)).toBe(false);
    expect(maySeeFile(as('volunteer'), { ...rare, isPicture: false })).toBe(false);
    expect(maySeeOriginal(as('preparator'), rare)).toBe(true);
    expect(maySeeOriginal(as('volunteer'), { ...rare, sensitive: false })).toBe(true);
  });
});
