/** `GPKG`, and version 1.3.0, as the standard wants them in the file's head (OGC 12-128r18, requirement 2). */
export const GEOPACKAGE_PRAGMAS = ['application_id = 0x47504B47', 'user_version = 10300'];

/** WGS84 with longitude first, as every GeoPackage writes it. */
export const WGS84_ID = 4326;
const WGS84 =
  'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]';

/** The tables of the standard (annex C) with the rows that each file has; metadata are an extension (annex F.8). */
export const GEOPACKAGE_TABLES = `
create table gpkg_spatial_ref_sys (
  srs_name text not null, srs_id integer not null primary key, organization text not null,
  organization_coordsys_id integer not null, definition text not null, description text);
insert into gpkg_spatial_ref_sys values
  ('Undefined cartesian SRS', -1, 'NONE', -1, 'undefined', 'undefined cartesian coordinate reference system'),
  ('Undefined geographic SRS', 0, 'NONE', 0, 'undefined', 'undefined geographic coordinate reference system'),
  ('WGS 84 geodetic', ${WGS84_ID}, 'EPSG', 4326, '${WGS84}', 'longitude/latitude coordinates in decimal degrees on the WGS 84 spheroid');
create table gpkg_contents (
  table_name text not null primary key, data_type text not null, identifier text unique, description text default '',
  last_change datetime not null default (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  min_x double, min_y double, max_x double, max_y double, srs_id integer,
  constraint fk_gc_r_srs_id foreign key (srs_id) references gpkg_spatial_ref_sys(srs_id));
create table gpkg_geometry_columns (
  table_name text not null, column_name text not null, geometry_type_name text not null, srs_id integer not null,
  z tinyint not null, m tinyint not null,
  constraint pk_geom_cols primary key (table_name, column_name), constraint uk_gc_table_name unique (table_name),
  constraint fk_gc_tn foreign key (table_name) references gpkg_contents(table_name),
  constraint fk_gc_srs foreign key (srs_id) references gpkg_spatial_ref_sys (srs_id));
create table gpkg_extensions (
  table_name text, column_name text, extension_name text not null, definition text not null, scope text not null,
  constraint ge_tce unique (table_name, column_name, extension_name));
insert into gpkg_extensions values
  ('gpkg_metadata', null, 'gpkg_metadata', 'http://www.geopackage.org/spec130/#extension_metadata', 'read-write'),
  ('gpkg_metadata_reference', null, 'gpkg_metadata', 'http://www.geopackage.org/spec130/#extension_metadata', 'read-write');
create table gpkg_metadata (
  id integer constraint m_pk primary key asc not null, md_scope text not null default 'dataset',
  md_standard_uri text not null, mime_type text not null default 'text/xml', metadata text not null default '');
create table gpkg_metadata_reference (
  reference_scope text not null, table_name text, column_name text, row_id_value integer,
  timestamp datetime not null default (strftime('%Y-%m-%dT%H:%M:%fZ','now')), md_file_id integer not null, md_parent_id integer,
  constraint crmr_mfi_fk foreign key (md_file_id) references gpkg_metadata(id),
  constraint crmr_mpi_fk foreign key (md_parent_id) references gpkg_metadata(id));
`;
