import type { ExportBird, ExportHolder, ExportMaterial } from '@/lib/exchange/export-types';
import { joinList } from '@/lib/exchange/map-bird';
import type { TermRow } from '@/lib/exchange/terms';

/** A material as a row of its own. Label and remarks of a sensitive bird may name the place: left out then. */
export function mapMaterial(material: ExportMaterial, bird: ExportBird, holder: ExportHolder): TermRow {
  return {
    'dwc:materialEntityID': material.id,
    'dwc:materialEntityCategory': material.category,
    'dwc:materialEntityType': material.type,
    'dwc:materialEntityRemarks': bird.generalise === null ? material.remarks : null,
    'dwc:catalogNumber': material.catalogNumber,
    'dwc:otherCatalogNumbers': joinList(material.otherNumbers),
    'dwc:preparations': material.preparation,
    'dwc:disposition': material.disposition,
    'dwc:objectQuantity': material.quantity,
    'dwc:objectQuantityType': material.quantity === null ? null : material.quantityType,
    'dwc:verbatimLabel': bird.generalise === null ? material.verbatimLabel : null,
    'dwc:associatedSequences': joinList(material.sequences),
    'dwc:institutionCode': holder.institutionCode,
    'dwc:collectionCode': holder.collectionCode,
  };
}

/** The core row of the material archive. */
export function mapMaterialCore(material: ExportMaterial, bird: ExportBird, holder: ExportHolder): TermRow {
  const name = bird.identifications.find((identification) => identification.accepted)?.name;
  return {
    ...mapMaterial(material, bird, holder),
    'dc:type': 'PhysicalObject',
    'dcterms:modified': material.modifiedAt,
    'dcterms:license': holder.licenseIri,
    'dcterms:rightsHolder': holder.rightsHolder,
    'dwc:basisOfRecord': material.sample ? 'MaterialEntity' : 'PreservedSpecimen',
    'dwc:organismID': bird.organismId,
    'dwc:materialSampleID': material.sample ? material.id : null,
    'dwc:scientificName': name ? joinName(name.scientificName, name.authorship) : null,
    'dwc:vernacularName': name?.vernacularName ?? null,
    'dwc:sex': bird.sex,
  };
}

function joinName(name: string, authorship: string | null): string {
  return authorship ? `${name} ${authorship}` : name;
}

/** What a material was taken from, and what it is still inside of. */
export function mapRelationships(material: ExportMaterial): TermRow[] {
  const relations: [string, string | null][] = [
    ['derived from', material.derivedFromId],
    ['part of', material.partOfId],
  ];
  return relations.flatMap(([relation, related]) =>
    related === null
      ? []
      : [
          {
            'dwc:resourceRelationshipID': `${material.id}#${relation.replace(' ', '-')}`,
            'dwc:resourceID': material.id,
            'dwc:relationshipOfResource': relation,
            'dwc:relatedResourceID': related,
            'dwc:relationshipEstablishedDate': material.derivedOn,
          },
        ],
  );
}

export function mapSample(material: ExportMaterial): TermRow[] {
  const { sample } = material;
  if (!sample) return [];
  return [
    {
      'ggbn:materialSampleType': sample.sampleType,
      'ggbn:volume': sample.volume,
      'ggbn:volumeUnit': sample.volume === null ? null : sample.volumeUnit,
      'ggbn:weight': sample.weight,
      'ggbn:weightUnit': sample.weight === null ? null : sample.weightUnit,
      'ggbn:qualityCheckDate': sample.qualityCheckedOn,
      'ggbn:quality': sample.quality,
      'ggbn:qualityRemarks': sample.qualityRemarks,
      'ggbn:sampleDesignation': sample.designation,
    },
  ];
}

/** In the order they happened; sequence 1 is the oldest. */
export function mapPreservations(material: ExportMaterial): TermRow[] {
  return material.preservations.map((preservation, index) => ({
    'ggbn:preservationType': preservation.type,
    'ggbn:preservationTemperature': preservation.temperature,
    'ggbn:preservationDateBegin': preservation.beganOn,
    'ggbn:sequence': index + 1,
  }));
}

export function mapPreparations(material: ExportMaterial): TermRow[] {
  return material.preparations.map((preparation) => ({
    'ggbn:preparationType': preparation.type,
    'ggbn:preparationProcess': preparation.process,
    'ggbn:preparationMaterials': preparation.materials,
    'ggbn:preparedBy': joinList(preparation.preparedBy),
    'ggbn:preparationDate': preparation.preparedOn,
  }));
}

export function mapPermits(material: ExportMaterial): TermRow[] {
  return material.permits.map((permit) => ({
    'ggbn:permitType': permit.type,
    'ggbn:permitStatus': permit.status,
    'ggbn:permitStatusQualifier': permit.statusQualifier,
    'ggbn:permitURI': permit.uri,
    'ggbn:permitText': permit.text,
  }));
}

export function mapLoans(material: ExportMaterial): TermRow[] {
  return material.loans.map((loan) => ({
    'ggbn:loanIdentifier': loan.identifier,
    'ggbn:loanDate': loan.sentOn,
    'ggbn:loanDestination': loan.destination,
    'ggbn:loanConditions': loan.conditions,
    'ggbn:blocked': loan.blocked ? 'yes' : 'no',
    'ggbn:blockedUntil': loan.blockedUntil,
    'ggbn:receivedFrom': loan.receivedFrom,
    'dwc:disposition': material.disposition,
  }));
}
