-- AlterTable
ALTER TABLE "Finder" ADD COLUMN     "contactExpiredAt" TIMESTAMPTZ(3);
