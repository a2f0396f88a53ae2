import 'server-only';
import { randomUUID } from 'node:crypto';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { AppError, conflict, notFound, notValid } from '@/lib/platform/errors';
import type { FileAnswer } from '@/lib/platform/http';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { attachmentEvents } from './events';
import { readPicture } from './pictures';
import { type FileFacts, maySeeFile, maySeeOriginal, maySeeWords } from './policy';
import {
  type FileSubject,
  type FoundFile,
  findFile,
  findFiles,
  findSameFile,
  findSubject,
  findUploaders,
  insertFile,
  markRemoved,
  writeCaption,
} from './repo';
import { isPicture, kindOf, safeFileName } from './rules';
import {
  ATTACHMENT_SUBJECTS,
  type AttachmentList,
  type AttachmentListQuery,
  type AttachmentRow,
  type AttachmentSubject,
  type AttachmentUpload,
  type FileCopy,
  LARGEST_FILE_BYTES,
} from './schema';
import { dropCopies, putCopies, readCopy, saysDiskIsFull, sha256Of } from './store';

const noRoom = (cause: unknown) =>
  new AppError(
    'unavailable',
    say(
      'There is no room left for files, so this one was not kept. Tell whoever runs the installation; everything else works.',
    ),
    { cause, detail: String(cause) },
  );

const typeOf = (text: string): AttachmentSubject => {
  const type = ATTACHMENT_SUBJECTS.find((one) => one === text);
  if (type === undefined) throw new Error(`A file of an unknown subject: ${text}`);
  return type;
};
const factsOf = (file: FoundFile, { sensitive, approved }: FileSubject): FileFacts => ({
  subjectType: file.subjectType,
  isPicture: isPicture(file.mediaType),
  sensitive,
  approved,
});
const mayChange = (actor: Actor, file: FoundFile) =>
  may(actor, 'attachments.remove', { ownerIds: [file.uploadedById] });

/** The files of a subject that this reader may see. */
export async function listFiles(actor: Actor, query: AttachmentListQuery): Promise<AttachmentList> {
  authorise(actor, 'attachments.see');
  const { subjectType, subjectId } = query;
  const subject = await findSubject(db(), actor.collectionId, subjectType, subjectId);
  if (subject === null || !may(actor, 'attachments.see', { approved: subject.approved }))
    throw notFound(say('What these files belong to'));
  const files = await findFiles(db(), actor.collectionId, subjectType, subjectId);
  const rows: AttachmentRow[] = [];
  const names = await findUploaders(
    db(),
    files.map(({ uploadedById }) => uploadedById),
  );
  for (const file of files) {
    const own = await subjectOf(actor, file, subject);
    const facts = factsOf(file, own);
    if (maySeeFile(actor, facts)) rows.push(toRow(actor, file, facts, names.get(file.uploadedById) ?? null));
  }
  return { rows, abilities: { add: may(actor, 'attachments.add') } };
}

/** A loan's lines are of several birds; every other list is of one. */
async function subjectOf(actor: Actor, file: FoundFile, listed: FileSubject): Promise<FileSubject> {
  if (file.birdId === listed.birdId) return listed;
  const own = await findSubject(db(), actor.collectionId, typeOf(file.subjectType), file.subjectId);
  if (own === null) throw notFound(say('What this file belongs to'));
  return own;
}

function toRow(actor: Actor, file: FoundFile, facts: FileFacts, uploadedBy: string | null): AttachmentRow {
  const words = maySeeWords(actor, facts);
  const isStaff = may(actor, 'attachments.add');
  return {
    id: file.id,
    subjectType: typeOf(file.subjectType),
    subjectId: file.subjectId,
    fileName: words && isStaff ? file.fileName : facts.isPicture ? say('Photo') : say('Document'),
    mediaType: file.mediaType,
    isPicture: facts.isPicture,
    sizeBytes: file.sizeBytes,
    widthPx: file.widthPx,
    heightPx: file.heightPx,
    caption: words ? file.caption : null,
    takenAt: file.takenAt?.toISOString() ?? null,
    uploadedBy: isStaff ? uploadedBy : null,
    uploadedAt: file.uploadedAt.toISOString(),
    hasPlace: isStaff && file.hasPlace,
    abilities: { original: maySeeOriginal(actor, facts), change: mayChange(actor, file) },
  };
}

/** The whole body; one that is too large is refused before it is read to its end. */
async function readBody(body: ReadableStream<Uint8Array> | null): Promise<Buffer> {
  const pieces: Uint8Array[] = [];
  let sizeBytes = 0;
  const reader = body?.getReader();
  for (let step = await reader?.read(); step !== undefined && !step.done; step = await reader?.read()) {
    sizeBytes += step.value.byteLength;
    if (sizeBytes > LARGEST_FILE_BYTES) {
      await reader?.cancel();
      throw new AppError(
        'bad-request',
        say('The file is larger than {largestFileBytes} MB. Nothing was kept.', {
          largestFileBytes: LARGEST_FILE_BYTES >> 20,
        }),
      );
    }
    pieces.push(step.value);
  }
  if (sizeBytes === 0) throw new AppError('bad-request', say('The file is empty. Choose another one.'));
  return Buffer.concat(pieces);
}

/**
 * Keeps a photo or document: told by its content, pictures with a copy and a thumbnail without any metadata.
 * @throws AppError not-valid when it is neither or is damaged, conflict when it is there already.
 */
export async function addFile(
  context: CommandContext,
  upload: AttachmentUpload,
  body: ReadableStream<Uint8Array> | null,
): Promise<AttachmentRow> {
  const { actor } = context;
  authorise(actor, 'attachments.add');
  const { subjectType, subjectId } = upload;
  const subject = await findSubject(db(), actor.collectionId, subjectType, subjectId);
  if (subject === null) throw notFound(say('What this file should belong to'));
  const bytes = await readBody(body);
  const verdict = kindOf(bytes);
  if (!verdict.ok) throw notValid(verdict.reason, [{ path: 'file', message: verdict.reason }]);
  const picture = isPicture(verdict.kind) ? await readPicture(bytes) : null;
  const stored = { collectionId: actor.collectionId, id: randomUUID() };
  const file: FoundFile = {
    ...stored,
    subjectType,
    subjectId,
    birdId: subject.birdId,
    fileName: safeFileName(upload.fileName, verdict.kind),
    mediaType: verdict.kind,
    sizeBytes: bytes.byteLength,
    sha256: sha256Of(bytes),
    widthPx: picture?.widthPx ?? null,
    heightPx: picture?.heightPx ?? null,
    hasPlace: picture?.hasPlace ?? false,
    publicSha256: picture && sha256Of(picture.publicCopy),
    thumbSha256: picture && sha256Of(picture.thumb),
    caption: upload.caption || null,
    takenAt: picture?.takenAt ?? null,
    uploadedById: personOf(actor),
    uploadedAt: new Date(),
    removedAt: null,
  };
  if ((await findSameFile(db(), subjectType, subjectId, file.sha256)) !== null)
    throw conflict(say('This file is here already.'));
  try {
    await putCopies(stored, {
      original: bytes,
      ...(picture === null ? {} : { public: picture.publicCopy, thumb: picture.thumb }),
    });
    return await withTx(context, async (work) => {
      const kept = await insertFile(work.db, { ...file, uploadedAt: work.now });
      work.audit(attachmentEvents.make('attachments.added', eventSubject(kept), kept));
      return toRow(actor, kept, factsOf(kept, subject), actor.name);
    });
  } catch (error) {
    await dropCopies(stored);
    throw saysDiskIsFull(error) ? noRoom(error) : error;
  }
}

/** The event belongs to what the file shows, so that it stands in its story. */
const eventSubject = ({ subjectType, subjectId, birdId }: FoundFile, reason?: string) => ({
  subjectType,
  subjectId,
  birdId,
  reason,
});

/** A file with its subject, as far as this reader may know of it. */
async function loadFile(actor: Actor, id: string): Promise<{ file: FoundFile; facts: FileFacts }> {
  const file = await findFile(db(), actor.collectionId, id);
  const subject =
    file && (await findSubject(db(), actor.collectionId, typeOf(file.subjectType), file.subjectId));
  if (file === null || subject === null) throw notFound(say('This file'));
  const facts = factsOf(file, subject);
  if (!maySeeFile(actor, facts)) throw notFound(say('This file'));
  return { file, facts };
}

const OTHER_COPY = { public: 'publicSha256', thumb: 'thumbSha256' } as const;

/**
 * One copy of a file. Who opens an original that a camera wrote a place into is noted in the history.
 * @throws AppError unavailable when the store lost it or its digest differs.
 */
export async function openFile(context: CommandContext, id: string, copy: FileCopy): Promise<FileAnswer> {
  const { actor } = context;
  authorise(actor, 'attachments.see');
  const { file, facts } = await loadFile(actor, id);
  const isOriginal = copy === 'original' || !facts.isPicture;
  if (isOriginal && !maySeeOriginal(actor, facts)) throw notFound(say('This file'));
  const wanted = isOriginal ? 'original' : copy;
  const bytes = await readCopy(file, wanted);
  const digest = wanted === 'original' ? file.sha256 : file[OTHER_COPY[wanted]];
  if (bytes === null || sha256Of(bytes) !== digest)
    throw new AppError(
      'unavailable',
      say('This file is not in the store as it was handed in. Tell an administrator.'),
      {
        detail: say('attachment {id} ({wanted}) is missing or damaged', { id, wanted }),
      },
    );
  if (wanted === 'original' && facts.sensitive && file.hasPlace)
    await withTx(context, async (work) =>
      work.audit(attachmentEvents.make('attachments.original-read', eventSubject(file), file)),
    );
  return {
    body: bytes,
    mediaType: wanted === 'original' ? file.mediaType : 'image/jpeg',
    fileName: wanted === 'original' ? file.fileName : `photo-${id.slice(-6)}.jpg`,
    inline: facts.isPicture,
  };
}

/** Changes what is said of a file. */
export async function captionFile(
  context: CommandContext,
  id: string,
  caption: string | null,
): Promise<AttachmentRow> {
  const { actor } = context;
  const { file, facts } = await loadFile(actor, id);
  authorise(actor, 'attachments.remove', { ownerIds: [file.uploadedById] });
  return withTx(context, async (work) => {
    if ((await writeCaption(work.db, id, caption || null)) === 0)
      throw conflict(say('This file was removed.'));
    work.audit(attachmentEvents.make('attachments.captioned', eventSubject(file), file));
    const names = await findUploaders(work.db, [file.uploadedById]);
    const row = { ...file, caption: caption || null };
    return toRow(actor, row, facts, names.get(file.uploadedById) ?? null);
  });
}

/** Takes a file from sight, with a reason; its bytes stay in the store for whoever keeps it. */
export async function removeFile(
  context: CommandContext,
  id: string,
  reason: string,
): Promise<{ id: string }> {
  const { actor } = context;
  const { file } = await loadFile(actor, id);
  authorise(actor, 'attachments.remove', { ownerIds: [file.uploadedById] });
  return withTx(context, async (work) => {
    if ((await markRemoved(work.db, id, work.now)) === 0)
      throw conflict(say('This file was removed already.'));
    work.audit(attachmentEvents.make('attachments.removed', eventSubject(file, reason), file));
    return { id };
  });
}
