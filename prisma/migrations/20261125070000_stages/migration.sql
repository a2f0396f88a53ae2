-- Extensions first: citext columns, trigram search, ranges beside equality in one constraint.
CREATE EXTENSION IF NOT EXISTS citext;
CREATE EXTENSION IF NOT EXISTS pg_trgm;
CREATE EXTENSION IF NOT EXISTS unaccent;
CREATE EXTENSION IF NOT EXISTS btree_gist;

-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "public";

-- CreateTable
CREATE TABLE "Accession" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "kind" TEXT NOT NULL DEFAULT 'salvage',
    "source" TEXT NOT NULL,
    "receivedOn" DATE NOT NULL,
    "agreement" TEXT,
    "remarks" TEXT,
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Accession_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Attachment" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "subjectType" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "fileName" TEXT NOT NULL,
    "mediaType" TEXT NOT NULL,
    "sizeBytes" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "caption" TEXT,
    "takenAt" TIMESTAMPTZ(3),
    "uploadedById" UUID NOT NULL,
    "uploadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "removedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Attachment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AuditEvent" (
    "id" UUID NOT NULL,
    "seq" BIGINT NOT NULL DEFAULT 0,
    "collectionId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "actorId" UUID,
    "actorName" TEXT NOT NULL,
    "birdId" UUID,
    "subjectType" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "payload" JSONB NOT NULL,
    "reason" TEXT,
    "requestId" TEXT,
    "previousDigest" TEXT NOT NULL DEFAULT '',
    "digest" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "AuditEvent_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AuditHead" (
    "collectionId" UUID NOT NULL,
    "seq" BIGINT NOT NULL,
    "digest" TEXT NOT NULL,

    CONSTRAINT "AuditHead_pkey" PRIMARY KEY ("collectionId")
);

-- CreateTable
CREATE TABLE "IdempotencyKey" (
    "key" TEXT NOT NULL,
    "personId" UUID NOT NULL,
    "route" TEXT NOT NULL,
    "bodyDigest" TEXT NOT NULL,
    "status" INTEGER NOT NULL,
    "body" JSONB NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "IdempotencyKey_pkey" PRIMARY KEY ("personId","key")
);

-- CreateTable
CREATE TABLE "NumberSequence" (
    "collectionId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "scope" TEXT NOT NULL DEFAULT '',
    "next" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "NumberSequence_pkey" PRIMARY KEY ("collectionId","kind","scope")
);

-- CreateTable
CREATE TABLE "BenchRecord" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "birdId" UUID NOT NULL,
    "prepNumber" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'draft',
    "styleId" TEXT NOT NULL,
    "preparatorId" UUID NOT NULL,
    "scribeId" UUID,
    "startedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "finishedAt" TIMESTAMPTZ(3),
    "sentAt" TIMESTAMPTZ(3),
    "values" JSONB NOT NULL DEFAULT '{}',
    "stepsDone" JSONB NOT NULL DEFAULT '{}',
    "overrides" JSONB NOT NULL DEFAULT '{}',
    "reviewRemarks" JSONB NOT NULL DEFAULT '[]',
    "boneExplanation" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "BenchRecord_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "BenchEntry" (
    "id" UUID NOT NULL,
    "recordId" UUID NOT NULL,
    "field" TEXT NOT NULL,
    "value" JSONB NOT NULL,
    "unit" TEXT,
    "verbatim" TEXT,
    "method" TEXT,
    "enteredAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "enteredById" UUID NOT NULL,
    "clientKey" TEXT,
    "supersededAt" TIMESTAMPTZ(3),

    CONSTRAINT "BenchEntry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "CatalogueEntry" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "birdId" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "approvedById" UUID NOT NULL,
    "approvedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "approved" JSONB NOT NULL,

    CONSTRAINT "CatalogueEntry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Amendment" (
    "id" UUID NOT NULL,
    "entryId" UUID NOT NULL,
    "field" TEXT NOT NULL,
    "before" JSONB,
    "after" JSONB,
    "reason" TEXT NOT NULL,
    "amendedById" UUID NOT NULL,
    "amendedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Amendment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Determination" (
    "id" UUID NOT NULL,
    "birdId" UUID NOT NULL,
    "taxonId" UUID,
    "verbatim" TEXT NOT NULL,
    "qualifier" TEXT,
    "determinedBy" TEXT NOT NULL,
    "determinedOn" DATE NOT NULL,
    "remarks" TEXT,
    "current" BOOLEAN NOT NULL DEFAULT true,
    "recordedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Determination_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SavedView" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "page" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "query" TEXT NOT NULL,
    "shared" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "SavedView_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ImportRun" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "fileName" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'uploaded',
    "mapping" JSONB NOT NULL DEFAULT '{}',
    "summary" JSONB NOT NULL DEFAULT '{}',
    "rowsTotal" INTEGER NOT NULL DEFAULT 0,
    "rowsDone" INTEGER NOT NULL DEFAULT 0,
    "rowsFailed" INTEGER NOT NULL DEFAULT 0,
    "startedById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "finishedAt" TIMESTAMPTZ(3),
    "undoneAt" TIMESTAMPTZ(3),

    CONSTRAINT "ImportRun_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ApiToken" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "tokenDigest" TEXT NOT NULL,
    "scopes" TEXT[],
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "revokedAt" TIMESTAMPTZ(3),
    "lastUsedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "ApiToken_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Borrower" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "institution" TEXT NOT NULL,
    "contact" TEXT NOT NULL,
    "email" TEXT,
    "address" TEXT,
    "country" TEXT NOT NULL,

    CONSTRAINT "Borrower_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Loan" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'asked',
    "kind" TEXT NOT NULL DEFAULT 'loan',
    "borrowerId" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "askedOn" DATE NOT NULL,
    "dueOn" DATE,
    "askedById" UUID,
    "decidedById" UUID,
    "decidedAt" TIMESTAMPTZ(3),
    "decisionNote" TEXT,
    "packedAt" TIMESTAMPTZ(3),
    "sentAt" TIMESTAMPTZ(3),
    "receivedAt" TIMESTAMPTZ(3),
    "closedAt" TIMESTAMPTZ(3),
    "conditions" TEXT,
    "documents" JSONB NOT NULL DEFAULT '[]',
    "extensions" JSONB NOT NULL DEFAULT '[]',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Loan_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "LoanLine" (
    "id" UUID NOT NULL,
    "loanId" UUID NOT NULL,
    "materialId" UUID NOT NULL,
    "shelfUnitId" UUID,
    "shelfPosition" TEXT,
    "conditionOut" TEXT,
    "conditionIn" TEXT,
    "sentAt" TIMESTAMPTZ(3),
    "outcome" TEXT,
    "outcomeAt" TIMESTAMPTZ(3),
    "outcomeNote" TEXT,

    CONSTRAINT "LoanLine_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Collection" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "timeZone" TEXT NOT NULL DEFAULT 'UTC',
    "settings" JSONB NOT NULL DEFAULT '{}',
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Collection_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Person" (
    "id" UUID NOT NULL,
    "email" CITEXT NOT NULL,
    "name" TEXT NOT NULL,
    "passwordDigest" TEXT,
    "active" BOOLEAN NOT NULL DEFAULT true,
    "sessionEpoch" INTEGER NOT NULL DEFAULT 0,
    "locale" TEXT NOT NULL DEFAULT 'en',
    "lastSignInAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Membership" (
    "personId" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Membership_pkey" PRIMARY KEY ("personId","collectionId","role")
);

-- CreateTable
CREATE TABLE "PersonSkill" (
    "personId" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "styleId" TEXT NOT NULL,
    "sizeClass" TEXT NOT NULL,
    "level" TEXT NOT NULL,
    "signedOffBy" UUID,
    "signedOffAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "PersonSkill_pkey" PRIMARY KEY ("personId","collectionId","styleId","sizeClass")
);

-- CreateTable
CREATE TABLE "AccessLink" (
    "id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "tokenDigest" TEXT NOT NULL,
    "collectionId" UUID,
    "personId" UUID,
    "payload" JSONB NOT NULL DEFAULT '{}',
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "usedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "AccessLink_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Notice" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "subjectType" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "message" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "readAt" TIMESTAMPTZ(3),

    CONSTRAINT "Notice_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Permit" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "authority" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "jurisdiction" TEXT NOT NULL,
    "holder" TEXT NOT NULL,
    "effectiveOn" DATE NOT NULL,
    "expiresOn" DATE NOT NULL,
    "clauses" JSONB NOT NULL DEFAULT '[]',
    "subPermittees" JSONB NOT NULL DEFAULT '[]',
    "replacesId" UUID,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Permit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PermitAmendment" (
    "id" UUID NOT NULL,
    "permitId" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "before" JSONB NOT NULL,
    "reason" TEXT NOT NULL,
    "amendedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "amendedBy" UUID NOT NULL,

    CONSTRAINT "PermitAmendment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RulePack" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "version" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "content" JSONB NOT NULL,
    "active" BOOLEAN NOT NULL DEFAULT true,
    "confirmations" JSONB NOT NULL DEFAULT '{}',
    "loadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "loadedById" UUID,

    CONSTRAINT "RulePack_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Place" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "stateProvince" TEXT NOT NULL,
    "county" TEXT NOT NULL,
    "latitude" DOUBLE PRECISION,
    "longitude" DOUBLE PRECISION,
    "uncertaintyM" DOUBLE PRECISION,
    "active" BOOLEAN NOT NULL DEFAULT true,

    CONSTRAINT "Place_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Bird" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "salvageId" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "taxonId" UUID,
    "state" TEXT NOT NULL DEFAULT 'in-custody',
    "sex" TEXT NOT NULL DEFAULT 'undetermined',
    "sizeClass" TEXT NOT NULL DEFAULT 'medium',
    "styleId" TEXT,
    "frozenAt" TIMESTAMPTZ(3),
    "thawStartedAt" TIMESTAMPTZ(3),
    "claimedById" UUID,
    "claimedAt" TIMESTAMPTZ(3),
    "claimExpiresAt" TIMESTAMPTZ(3),
    "requestedById" UUID,
    "requestReason" TEXT,
    "priority" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "priorityDetail" JSONB NOT NULL DEFAULT '[]',
    "disposition" TEXT,
    "disposedOn" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Bird_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Material" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "birdId" UUID NOT NULL,
    "parentId" UUID,
    "kind" TEXT NOT NULL,
    "suffix" TEXT NOT NULL,
    "state" TEXT,
    "custody" TEXT NOT NULL DEFAULT 'on-shelf',
    "description" TEXT,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Material_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "DayPlan" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "planOn" DATE NOT NULL,
    "input" JSONB NOT NULL,
    "outcome" JSONB NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "DayPlan_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PermitReport" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "permitId" UUID NOT NULL,
    "fromOn" DATE NOT NULL,
    "toOn" DATE NOT NULL,
    "edition" INTEGER NOT NULL DEFAULT 1,
    "state" TEXT NOT NULL DEFAULT 'open',
    "explanations" JSONB NOT NULL DEFAULT '{}',
    "amendReason" TEXT,
    "frozen" JSONB,
    "digest" TEXT,
    "signedById" UUID,
    "signedAt" TIMESTAMPTZ(3),
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "PermitReport_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Finder" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "name" TEXT,
    "email" TEXT,
    "phone" TEXT,
    "address" TEXT,
    "erasedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Finder_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SalvageRecord" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'reported',
    "source" TEXT NOT NULL DEFAULT 'staff',
    "specimenType" TEXT NOT NULL DEFAULT 'whole-bird',
    "quantity" INTEGER NOT NULL DEFAULT 1,
    "taxonId" UUID,
    "verbatimTaxon" TEXT NOT NULL,
    "foundFrom" DATE NOT NULL,
    "foundTo" DATE NOT NULL,
    "verbatimDate" TEXT,
    "receivedOn" DATE NOT NULL,
    "country" TEXT NOT NULL DEFAULT '',
    "stateProvince" TEXT NOT NULL DEFAULT '',
    "county" TEXT NOT NULL DEFAULT '',
    "locality" TEXT NOT NULL,
    "placeId" UUID,
    "latitude" DOUBLE PRECISION,
    "longitude" DOUBLE PRECISION,
    "uncertaintyM" DOUBLE PRECISION,
    "verbatimCoordinates" TEXT,
    "circumstances" TEXT NOT NULL,
    "cause" TEXT NOT NULL DEFAULT 'unknown',
    "condition" TEXT NOT NULL DEFAULT 'unknown',
    "bandNumber" TEXT,
    "bandReportedOn" DATE,
    "diseaseSigns" BOOLEAN NOT NULL DEFAULT false,
    "suspectedIllegal" BOOLEAN NOT NULL DEFAULT false,
    "remarks" TEXT,
    "finderId" UUID,
    "loggedById" UUID,
    "loggedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "permitId" UUID,
    "authorityKey" TEXT,
    "coverage" TEXT NOT NULL DEFAULT 'unchecked',
    "coverageDetail" JSONB,
    "coverageRuling" JSONB,
    "accessionId" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "SalvageRecord_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "CustodyEvent" (
    "id" UUID NOT NULL,
    "salvageId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "fromWhom" TEXT NOT NULL,
    "toWhom" TEXT NOT NULL,
    "note" TEXT,
    "recordedBy" UUID,

    CONSTRAINT "CustodyEvent_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Hold" (
    "id" UUID NOT NULL,
    "salvageId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "tellWhom" TEXT,
    "placedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "placedBy" UUID,
    "liftedAt" TIMESTAMPTZ(3),
    "liftedBy" UUID,
    "liftNote" TEXT,

    CONSTRAINT "Hold_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "DropOffSlip" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "tokenDigest" TEXT NOT NULL,
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "revokedAt" TIMESTAMPTZ(3),

    CONSTRAINT "DropOffSlip_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "BoneEntry" (
    "birdId" UUID NOT NULL,
    "element" TEXT NOT NULL,
    "side" TEXT NOT NULL,
    "portion" TEXT NOT NULL DEFAULT 'whole',
    "state" TEXT NOT NULL DEFAULT 'whole',
    "place" TEXT NOT NULL,
    "materialId" UUID,
    "note" TEXT,

    CONSTRAINT "BoneEntry_pkey" PRIMARY KEY ("birdId","element","side","portion")
);

-- CreateTable
CREATE TABLE "ProcessStep" (
    "id" UUID NOT NULL,
    "materialId" UUID NOT NULL,
    "step" TEXT NOT NULL,
    "method" TEXT,
    "startedAt" TIMESTAMPTZ(3) NOT NULL,
    "dueAt" TIMESTAMPTZ(3),
    "endedAt" TIMESTAMPTZ(3),
    "byId" UUID NOT NULL,
    "note" TEXT,

    CONSTRAINT "ProcessStep_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "StorageUnit" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "parentId" UUID,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "code" TEXT NOT NULL,
    "path" TEXT NOT NULL,
    "rows" INTEGER,
    "columns" INTEGER,
    "naming" TEXT,
    "targetTempC" DOUBLE PRECISION,
    "capacity" INTEGER,
    "active" BOOLEAN NOT NULL DEFAULT true,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "StorageUnit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Placement" (
    "materialId" UUID NOT NULL,
    "unitId" UUID NOT NULL,
    "position" TEXT,
    "placedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "placedById" UUID,

    CONSTRAINT "Placement_pkey" PRIMARY KEY ("materialId")
);

-- CreateTable
CREATE TABLE "MaterialMove" (
    "id" UUID NOT NULL,
    "materialId" UUID NOT NULL,
    "fromPath" TEXT,
    "toPath" TEXT,
    "reason" TEXT,
    "movedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "movedById" UUID,

    CONSTRAINT "MaterialMove_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "InventorySession" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "unitId" UUID NOT NULL,
    "startedById" UUID NOT NULL,
    "startedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "closedAt" TIMESTAMPTZ(3),

    CONSTRAINT "InventorySession_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "InventoryScan" (
    "sessionId" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "unitId" UUID NOT NULL,
    "position" TEXT,
    "scannedBy" UUID NOT NULL,
    "scannedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "InventoryScan_pkey" PRIMARY KEY ("sessionId","code")
);

-- CreateTable
CREATE TABLE "TemperatureLog" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "unitId" UUID NOT NULL,
    "fileName" TEXT NOT NULL,
    "fromAt" TIMESTAMPTZ(3) NOT NULL,
    "toAt" TIMESTAMPTZ(3) NOT NULL,
    "readings" INTEGER NOT NULL,
    "thresholdC" DOUBLE PRECISION NOT NULL,
    "excursions" JSONB NOT NULL,
    "loadedById" UUID NOT NULL,
    "loadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "TemperatureLog_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Checklist" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "edition" TEXT NOT NULL,
    "credit" TEXT NOT NULL,
    "importedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "current" BOOLEAN NOT NULL DEFAULT false,

    CONSTRAINT "Checklist_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Taxon" (
    "id" UUID NOT NULL,
    "checklistId" UUID NOT NULL,
    "scientificName" TEXT NOT NULL,
    "authorship" TEXT,
    "rank" TEXT NOT NULL,
    "commonName" TEXT,
    "orderName" TEXT,
    "familyName" TEXT,
    "genus" TEXT,
    "acceptedId" UUID,
    "sensitive" BOOLEAN NOT NULL DEFAULT false,
    "sortOrder" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "Taxon_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "StatusList" (
    "id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "edition" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "loadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "StatusList_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "StatusListRow" (
    "listId" UUID NOT NULL,
    "scientificName" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "note" TEXT,

    CONSTRAINT "StatusListRow_pkey" PRIMARY KEY ("listId","scientificName")
);

-- CreateTable
CREATE TABLE "Vial" (
    "materialId" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "collectionId" UUID NOT NULL,
    "tissues" TEXT[],
    "preservation" TEXT NOT NULL,
    "ethanolPercent" DOUBLE PRECISION,
    "container" TEXT,
    "amount" DOUBLE PRECISION NOT NULL,
    "amountLeft" DOUBLE PRECISION NOT NULL,
    "amountUnit" TEXT NOT NULL DEFAULT 'mg',
    "sampledAt" TIMESTAMPTZ(3),
    "frozenAt" TIMESTAMPTZ(3),
    "thawCount" INTEGER NOT NULL DEFAULT 0,
    "deathToFreezeHours" DOUBLE PRECISION,
    "outOfFreezerMinutes" DOUBLE PRECISION,
    "qualityClass" INTEGER,
    "qualityReason" TEXT,
    "filledById" UUID NOT NULL,

    CONSTRAINT "Vial_pkey" PRIMARY KEY ("materialId")
);

-- CreateTable
CREATE TABLE "VialUse" (
    "id" UUID NOT NULL,
    "vialId" UUID NOT NULL,
    "amount" DOUBLE PRECISION NOT NULL,
    "purpose" TEXT NOT NULL,
    "childMaterialId" UUID,
    "usedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "usedById" UUID NOT NULL,

    CONSTRAINT "VialUse_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "Accession_collectionId_number_key" ON "Accession"("collectionId", "number");

-- CreateIndex
CREATE INDEX "Attachment_subjectType_subjectId_idx" ON "Attachment"("subjectType", "subjectId");

-- CreateIndex
CREATE INDEX "AuditEvent_subjectType_subjectId_seq_idx" ON "AuditEvent"("subjectType", "subjectId", "seq");

-- CreateIndex
CREATE INDEX "AuditEvent_birdId_seq_idx" ON "AuditEvent"("birdId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "AuditEvent_collectionId_seq_key" ON "AuditEvent"("collectionId", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "BenchRecord_birdId_key" ON "BenchRecord"("birdId");

-- CreateIndex
CREATE INDEX "BenchRecord_collectionId_state_sentAt_idx" ON "BenchRecord"("collectionId", "state", "sentAt");

-- CreateIndex
CREATE INDEX "BenchRecord_preparatorId_state_idx" ON "BenchRecord"("preparatorId", "state");

-- CreateIndex
CREATE UNIQUE INDEX "BenchRecord_collectionId_prepNumber_key" ON "BenchRecord"("collectionId", "prepNumber");

-- CreateIndex
CREATE INDEX "BenchEntry_recordId_field_enteredAt_idx" ON "BenchEntry"("recordId", "field", "enteredAt");

-- CreateIndex
CREATE UNIQUE INDEX "BenchEntry_recordId_clientKey_key" ON "BenchEntry"("recordId", "clientKey");

-- CreateIndex
CREATE UNIQUE INDEX "CatalogueEntry_birdId_key" ON "CatalogueEntry"("birdId");

-- CreateIndex
CREATE UNIQUE INDEX "CatalogueEntry_collectionId_number_key" ON "CatalogueEntry"("collectionId", "number");

-- CreateIndex
CREATE INDEX "Amendment_entryId_amendedAt_idx" ON "Amendment"("entryId", "amendedAt");

-- CreateIndex
CREATE INDEX "Determination_birdId_recordedAt_idx" ON "Determination"("birdId", "recordedAt");

-- CreateIndex
CREATE INDEX "SavedView_collectionId_page_idx" ON "SavedView"("collectionId", "page");

-- CreateIndex
CREATE INDEX "ImportRun_collectionId_createdAt_idx" ON "ImportRun"("collectionId", "createdAt");

-- CreateIndex
CREATE UNIQUE INDEX "ApiToken_tokenDigest_key" ON "ApiToken"("tokenDigest");

-- CreateIndex
CREATE INDEX "Loan_collectionId_state_dueOn_idx" ON "Loan"("collectionId", "state", "dueOn");

-- CreateIndex
CREATE UNIQUE INDEX "Loan_collectionId_number_key" ON "Loan"("collectionId", "number");

-- CreateIndex
CREATE INDEX "LoanLine_materialId_idx" ON "LoanLine"("materialId");

-- CreateIndex
CREATE UNIQUE INDEX "LoanLine_loanId_materialId_key" ON "LoanLine"("loanId", "materialId");

-- CreateIndex
CREATE UNIQUE INDEX "Collection_code_key" ON "Collection"("code");

-- CreateIndex
CREATE UNIQUE INDEX "Person_email_key" ON "Person"("email");

-- CreateIndex
CREATE UNIQUE INDEX "AccessLink_tokenDigest_key" ON "AccessLink"("tokenDigest");

-- CreateIndex
CREATE INDEX "Notice_personId_readAt_createdAt_idx" ON "Notice"("personId", "readAt", "createdAt");

-- CreateIndex
CREATE UNIQUE INDEX "Permit_collectionId_authority_number_key" ON "Permit"("collectionId", "authority", "number");

-- CreateIndex
CREATE UNIQUE INDEX "PermitAmendment_permitId_version_key" ON "PermitAmendment"("permitId", "version");

-- CreateIndex
CREATE UNIQUE INDEX "RulePack_collectionId_key_version_key" ON "RulePack"("collectionId", "key", "version");

-- CreateIndex
CREATE UNIQUE INDEX "Place_collectionId_name_key" ON "Place"("collectionId", "name");

-- CreateIndex
CREATE UNIQUE INDEX "Bird_salvageId_key" ON "Bird"("salvageId");

-- CreateIndex
CREATE INDEX "Bird_collectionId_state_priority_idx" ON "Bird"("collectionId", "state", "priority" DESC);

-- CreateIndex
CREATE INDEX "Bird_claimedById_idx" ON "Bird"("claimedById");

-- CreateIndex
CREATE UNIQUE INDEX "Bird_collectionId_number_key" ON "Bird"("collectionId", "number");

-- CreateIndex
CREATE INDEX "Material_collectionId_kind_state_idx" ON "Material"("collectionId", "kind", "state");

-- CreateIndex
CREATE UNIQUE INDEX "Material_birdId_suffix_key" ON "Material"("birdId", "suffix");

-- CreateIndex
CREATE INDEX "DayPlan_collectionId_planOn_idx" ON "DayPlan"("collectionId", "planOn");

-- CreateIndex
CREATE UNIQUE INDEX "PermitReport_permitId_fromOn_toOn_edition_key" ON "PermitReport"("permitId", "fromOn", "toOn", "edition");

-- CreateIndex
CREATE INDEX "SalvageRecord_collectionId_state_loggedAt_idx" ON "SalvageRecord"("collectionId", "state", "loggedAt");

-- CreateIndex
CREATE INDEX "SalvageRecord_permitId_foundFrom_idx" ON "SalvageRecord"("permitId", "foundFrom");

-- CreateIndex
CREATE INDEX "SalvageRecord_collectionId_foundFrom_county_idx" ON "SalvageRecord"("collectionId", "foundFrom", "county");

-- CreateIndex
CREATE UNIQUE INDEX "SalvageRecord_collectionId_number_key" ON "SalvageRecord"("collectionId", "number");

-- CreateIndex
CREATE INDEX "CustodyEvent_salvageId_at_idx" ON "CustodyEvent"("salvageId", "at");

-- CreateIndex
CREATE INDEX "Hold_salvageId_liftedAt_idx" ON "Hold"("salvageId", "liftedAt");

-- CreateIndex
CREATE UNIQUE INDEX "DropOffSlip_tokenDigest_key" ON "DropOffSlip"("tokenDigest");

-- CreateIndex
CREATE INDEX "ProcessStep_materialId_startedAt_idx" ON "ProcessStep"("materialId", "startedAt");

-- CreateIndex
CREATE INDEX "ProcessStep_endedAt_dueAt_idx" ON "ProcessStep"("endedAt", "dueAt");

-- CreateIndex
CREATE INDEX "StorageUnit_parentId_idx" ON "StorageUnit"("parentId");

-- CreateIndex
CREATE UNIQUE INDEX "StorageUnit_collectionId_code_key" ON "StorageUnit"("collectionId", "code");

-- CreateIndex
CREATE INDEX "Placement_unitId_idx" ON "Placement"("unitId");

-- CreateIndex
CREATE UNIQUE INDEX "Placement_unitId_position_key" ON "Placement"("unitId", "position");

-- CreateIndex
CREATE INDEX "MaterialMove_materialId_movedAt_idx" ON "MaterialMove"("materialId", "movedAt");

-- CreateIndex
CREATE INDEX "TemperatureLog_unitId_fromAt_idx" ON "TemperatureLog"("unitId", "fromAt");

-- CreateIndex
CREATE INDEX "Taxon_familyName_idx" ON "Taxon"("familyName");

-- CreateIndex
CREATE INDEX "Taxon_genus_idx" ON "Taxon"("genus");

-- CreateIndex
CREATE UNIQUE INDEX "Taxon_checklistId_scientificName_key" ON "Taxon"("checklistId", "scientificName");

-- CreateIndex
CREATE UNIQUE INDEX "StatusList_key_edition_key" ON "StatusList"("key", "edition");

-- CreateIndex
CREATE UNIQUE INDEX "Vial_collectionId_code_key" ON "Vial"("collectionId", "code");

-- CreateIndex
CREATE INDEX "VialUse_vialId_idx" ON "VialUse"("vialId");

-- AddForeignKey
ALTER TABLE "BenchRecord" ADD CONSTRAINT "BenchRecord_birdId_fkey" FOREIGN KEY ("birdId") REFERENCES "Bird"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BenchEntry" ADD CONSTRAINT "BenchEntry_recordId_fkey" FOREIGN KEY ("recordId") REFERENCES "BenchRecord"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CatalogueEntry" ADD CONSTRAINT "CatalogueEntry_birdId_fkey" FOREIGN KEY ("birdId") REFERENCES "Bird"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Amendment" ADD CONSTRAINT "Amendment_entryId_fkey" FOREIGN KEY ("entryId") REFERENCES "CatalogueEntry"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Determination" ADD CONSTRAINT "Determination_birdId_fkey" FOREIGN KEY ("birdId") REFERENCES "Bird"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Loan" ADD CONSTRAINT "Loan_borrowerId_fkey" FOREIGN KEY ("borrowerId") REFERENCES "Borrower"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LoanLine" ADD CONSTRAINT "LoanLine_loanId_fkey" FOREIGN KEY ("loanId") REFERENCES "Loan"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LoanLine" ADD CONSTRAINT "LoanLine_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "Material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Membership" ADD CONSTRAINT "Membership_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Membership" ADD CONSTRAINT "Membership_collectionId_fkey" FOREIGN KEY ("collectionId") REFERENCES "Collection"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PersonSkill" ADD CONSTRAINT "PersonSkill_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Permit" ADD CONSTRAINT "Permit_replacesId_fkey" FOREIGN KEY ("replacesId") REFERENCES "Permit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PermitAmendment" ADD CONSTRAINT "PermitAmendment_permitId_fkey" FOREIGN KEY ("permitId") REFERENCES "Permit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Bird" ADD CONSTRAINT "Bird_salvageId_fkey" FOREIGN KEY ("salvageId") REFERENCES "SalvageRecord"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Bird" ADD CONSTRAINT "Bird_taxonId_fkey" FOREIGN KEY ("taxonId") REFERENCES "Taxon"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Material" ADD CONSTRAINT "Material_birdId_fkey" FOREIGN KEY ("birdId") REFERENCES "Bird"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Material" ADD CONSTRAINT "Material_parentId_fkey" FOREIGN KEY ("parentId") REFERENCES "Material"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PermitReport" ADD CONSTRAINT "PermitReport_permitId_fkey" FOREIGN KEY ("permitId") REFERENCES "Permit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SalvageRecord" ADD CONSTRAINT "SalvageRecord_taxonId_fkey" FOREIGN KEY ("taxonId") REFERENCES "Taxon"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SalvageRecord" ADD CONSTRAINT "SalvageRecord_finderId_fkey" FOREIGN KEY ("finderId") REFERENCES "Finder"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SalvageRecord" ADD CONSTRAINT "SalvageRecord_permitId_fkey" FOREIGN KEY ("permitId") REFERENCES "Permit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SalvageRecord" ADD CONSTRAINT "SalvageRecord_accessionId_fkey" FOREIGN KEY ("accessionId") REFERENCES "Accession"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CustodyEvent" ADD CONSTRAINT "CustodyEvent_salvageId_fkey" FOREIGN KEY ("salvageId") REFERENCES "SalvageRecord"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Hold" ADD CONSTRAINT "Hold_salvageId_fkey" FOREIGN KEY ("salvageId") REFERENCES "SalvageRecord"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BoneEntry" ADD CONSTRAINT "BoneEntry_birdId_fkey" FOREIGN KEY ("birdId") REFERENCES "Bird"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ProcessStep" ADD CONSTRAINT "ProcessStep_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "Material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StorageUnit" ADD CONSTRAINT "StorageUnit_parentId_fkey" FOREIGN KEY ("parentId") REFERENCES "StorageUnit"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Placement" ADD CONSTRAINT "Placement_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "Material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Placement" ADD CONSTRAINT "Placement_unitId_fkey" FOREIGN KEY ("unitId") REFERENCES "StorageUnit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "MaterialMove" ADD CONSTRAINT "MaterialMove_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "Material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "InventoryScan" ADD CONSTRAINT "InventoryScan_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "InventorySession"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Taxon" ADD CONSTRAINT "Taxon_checklistId_fkey" FOREIGN KEY ("checklistId") REFERENCES "Checklist"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Taxon" ADD CONSTRAINT "Taxon_acceptedId_fkey" FOREIGN KEY ("acceptedId") REFERENCES "Taxon"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StatusListRow" ADD CONSTRAINT "StatusListRow_listId_fkey" FOREIGN KEY ("listId") REFERENCES "StatusList"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Vial" ADD CONSTRAINT "Vial_materialId_fkey" FOREIGN KEY ("materialId") REFERENCES "Material"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "VialUse" ADD CONSTRAINT "VialUse_vialId_fkey" FOREIGN KEY ("vialId") REFERENCES "Vial"("materialId") ON DELETE RESTRICT ON UPDATE CASCADE;
