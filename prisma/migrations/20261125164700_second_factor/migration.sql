-- CreateTable
CREATE TABLE "SecondFactor" (
    "personId" UUID NOT NULL,
    "secret" TEXT NOT NULL,
    "confirmedAt" TIMESTAMPTZ(3),
    "lastStep" INTEGER NOT NULL DEFAULT 0,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "SecondFactor_pkey" PRIMARY KEY ("personId")
);

-- CreateTable
CREATE TABLE "RecoveryCode" (
    "id" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "digest" TEXT NOT NULL,
    "usedAt" TIMESTAMPTZ(3),

    CONSTRAINT "RecoveryCode_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "RecoveryCode_personId_idx" ON "RecoveryCode"("personId");

-- AddForeignKey
ALTER TABLE "SecondFactor" ADD CONSTRAINT "SecondFactor_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RecoveryCode" ADD CONSTRAINT "RecoveryCode_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
