/* order_file.h: the parts of an order's file, each read and written by a file of its own. */
#ifndef KILNSTOW_STUDIO_FILES_ORDER_FILE_H
#define KILNSTOW_STUDIO_FILES_ORDER_FILE_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* An order from its object: a file of its own, or the one that a plan carries. */
void ks_order_read_node(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_order_write(ks_json_out *out, const char *key, const ks_order *order);

/* Firings and schedules. */
void ks_firings_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_firings_write(ks_json_out *out, const ks_order *order);
void ks_firing_fields_write(ks_json_out *out, const ks_firing *firing);
void ks_firing_read(ks_reading *reading, const ks_json *node, void *firing);

void ks_members_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_members_write(ks_json_out *out, const ks_order *order);

/* Kilns, and the loads that each may be fired with. */
void ks_kilns_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_kilns_write(ks_json_out *out, const ks_order *order);

/* Rules but for those on tags, which need the ware to be known. */
void ks_rules_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_tag_rules_read(ks_reading *reading, const ks_json *node, ks_order *order);
void ks_rules_write(ks_json_out *out, const ks_order *order);

/* Inline ware and the spreadsheets named; then what can only be judged with all of it known. */
void ks_ware_read(ks_reading *reading, const ks_json *node, ks_order *order);

/* Rows of a spreadsheet as objects like those of JSON, appended to *rows. False if it cannot be
 * read at all. */
typedef struct {
    const ks_json **nodes;
    int n, room;
    ks_json **unnamed; /* those of them that tell no id, each with room for it */
    int n_unnamed, unnamed_room;
} ks_ware_nodes;
bool ks_ware_csv_rows(ks_reading *reading, const char *path, const ks_json *named_at,
                      ks_ware_nodes *rows);

#endif
