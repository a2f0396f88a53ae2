-- Imports work in the background, row by row, and remember what they made so that all of it can be taken back.
ALTER TABLE "ImportRun"
  ADD COLUMN "fileId" UUID,
  ADD CONSTRAINT import_state CHECK (state IN ('uploaded', 'checking', 'checked', 'running', 'cancelling', 'cancelled',
    'done', 'failed', 'undoing', 'undone'));

CREATE TABLE "ImportRow" (
    "runId" UUID NOT NULL,
    "line" INTEGER NOT NULL,
    "state" TEXT NOT NULL,
    "subjectId" UUID,
    "number" TEXT,
    "cells" JSONB NOT NULL,
    "values" JSONB NOT NULL DEFAULT '{}',
    "errors" JSONB NOT NULL DEFAULT '[]',
    "madeAt" TIMESTAMPTZ(3),

    CONSTRAINT "ImportRow_pkey" PRIMARY KEY ("runId","line"),
    CONSTRAINT import_row_state CHECK (state IN ('not-ready', 'made', 'failed', 'taken-back', 'kept'))
);

CREATE INDEX "ImportRow_subjectId_idx" ON "ImportRow"("subjectId");

ALTER TABLE "ImportRow" ADD CONSTRAINT "ImportRow_runId_fkey" FOREIGN KEY ("runId") REFERENCES "ImportRun"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- Numbers that earlier imports brought with them.
CREATE INDEX import_row_values ON "ImportRow" USING gin ("values" jsonb_path_ops);
