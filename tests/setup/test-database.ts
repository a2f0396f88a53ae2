import { Client } from 'pg';
import { inject } from 'vitest';

/** Gives each test file a fresh copy of the template, and the code under test its address. */
const name = `test_${process.env.VITEST_POOL_ID ?? '0'}`;
const url = new URL(inject('adminUrl'));
const admin = new Client({ connectionString: url.href });
await admin.connect();
await admin.query(`drop database if exists "${name}" with (force)`);
await admin.query(`create database "${name}" template "${inject('templateName')}" strategy file_copy`);
await admin.end();
url.pathname = `/${name}`;
process.env.DATABASE_URL = url.href;
