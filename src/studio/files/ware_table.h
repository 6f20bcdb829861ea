/* ware_table.h: ware tables as they were read, and with the counts that are left after a firing. */
#ifndef KILNSTOW_STUDIO_FILES_WARE_TABLE_H
#define KILNSTOW_STUDIO_FILES_WARE_TABLE_H

#include "base/file.h"
#include "studio/files/ware_columns.h"

/* A table that an order was read from. */
struct ks_ware_table {
    const char *path;
    ks_bytes bytes; /* as they stand in the file */
    const ks_csv *csv;
    ks_column_heading heading;
    int first, n_pieces; /* of the order's pieces, those that stand in it */
};

/* KS_BISQUE for bare ware that has been in a bisque firing, else KS_FIRED. */
ks_stage ks_stage_after(const ks_piece *piece, const ks_firing *firing);

/* Copies that stay in the table as another kind of ware. */
typedef struct {
    int copies;
    ks_stage stage;     /* that they are in now */
    double shrunk_to;   /* part of their lengths that is left */
    double lighter_to;  /* part of what was weighed that is left */
    const char *suffix; /* behind their id where that is taken: "bisque" */
} ks_ware_moved;

/* What a firing did to one kind of ware of the order. */
typedef struct {
    int piece; /* into order.pieces */
    int taken; /* copies that are no more what the row tells */
    int n_moved;
    ks_ware_moved moved[2];
} ks_ware_taken;

/* A table with its counts lowered. */
typedef struct {
    const char *path;
    ks_bytes before;
    const char *text;
} ks_ware_left;

/* The tables that change, in *out; nothing is written. Columns, their order, rows that do not
 * change and cells that are not known stay, byte for byte but for what other encodings than UTF-8
 * become. KS_BAD_INPUT where a row has fewer copies than were taken. Notes tell what has to be done
 * by hand: ware that stands in no table, sizes that are no numbers. */
typedef struct {
    int n;
    ks_ware_left *tables;
    int n_notes, notes_room;
    const char **notes;
} ks_ware_lowered;
ks_status ks_ware_lower(const ks_order *order, int n, const ks_ware_taken *taken, ks_arena *arena,
                        ks_ware_lowered *out, ks_error *err);

#endif
