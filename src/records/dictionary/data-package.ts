import type { TableName } from '../records.ts';
import type { Field, Table } from './field.ts';
import { CODE_PATTERN, FIRST_DATE, LAST_DATE } from './field.ts';

const PACKAGE_PROFILE = 'https://datapackage.org/profiles/2.0/datapackage.json';
const SCHEMA_PROFILE = 'https://datapackage.org/profiles/2.0/tableschema.json';

type Json = string | number | boolean | readonly Json[] | { readonly [name: string]: Json };

/** The dictionary as a Data Package (version 2.0) whose resources are the files of an export, each with a Table Schema. */
export function dataPackage(dictionary: Readonly<Record<TableName, Table>>): Readonly<Record<string, Json>> {
  return {
    $schema: PACKAGE_PROFILE,
    name: 'forefoot-export',
    title: 'Export of episodes of forefoot brace therapy',
    resources: Object.values(dictionary).map(table => ({
      name: table.name,
      path: table.file,
      type: 'table',
      format: 'csv',
      mediatype: 'text/csv',
      encoding: 'utf-8',
      description: table.row,
      schema: tableSchema(table),
    })),
  };
}

/** The Table Schema of one table. */
export function tableSchema(table: Table): Readonly<Record<string, Json>> {
  const required = table.key.every(name => table.fields.some(field => field.name === name && field.required));
  return {
    $schema: SCHEMA_PROFILE,
    // A column may be absent unless it is required, and others may stand among them. The profile asks for an array.
    fieldsMatch: ['partial'],
    fields: table.fields.map(fieldDescriptor),
    missingValues: [{ value: '', label: 'not recorded' }],
    // A primary key may hold no blank; a key with an optional field is a unique key.
    ...(required ? { primaryKey: table.key } : { uniqueKeys: [table.key] }),
    ...(table.foreignKeys.length === 0
      ? {}
      : {
          foreignKeys: table.foreignKeys.map(key => ({
            fields: key.fields,
            reference: { resource: key.table, fields: key.reference },
          })),
        }),
  };
}

function fieldDescriptor(field: Field): { readonly [name: string]: Json } {
  const needed = field.neededWhen === undefined ? '' : ` Needed when ${field.neededWhen}.`;
  const unit = field.unit === undefined ? {} : { unit: field.unit };
  const common = { name: field.name, description: `${field.meaning}${needed}`, ...unit };
  const required = field.required ? { required: true } : {};
  switch (field.type) {
    case 'code':
      return { ...common, type: 'string', constraints: { ...required, pattern: CODE_PATTERN } };
    case 'date':
      return {
        ...common,
        type: 'date',
        constraints: { ...required, minimum: FIRST_DATE, maximum: LAST_DATE },
      };
    case 'yes/no':
      return {
        ...common,
        type: 'boolean',
        trueValues: ['yes'],
        falseValues: ['no'],
        ...(field.required ? { constraints: required } : {}),
      };
    case 'category':
      return {
        ...common,
        type: 'string',
        categories: field.categories.map(({ value, label }) =>
          label === undefined ? { value } : { value, label },
        ),
        ...(field.ordered === true ? { categoriesOrdered: true } : {}),
        constraints: { ...required, enum: field.categories.map(({ value }) => value) },
      };
    default: {
      const least = field.aboveMinimum === true ? 'exclusiveMinimum' : 'minimum';
      const range = { [least]: field.minimum, maximum: field.maximum };
      const limits = field.values === undefined ? range : { enum: field.values };
      return { ...common, type: field.type, constraints: { ...required, ...limits } };
    }
  }
}
