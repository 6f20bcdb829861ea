/* reading.h: what all readers of this room share: where they are, lists, ids and outlines. */
#ifndef KILNSTOW_STUDIO_READING_READING_H
#define KILNSTOW_STUDIO_READING_READING_H

#include "base/data/fields.h"
#include "kilnstow/order.h"

#include <math.h>

/* A double that a file did not tell; its field is then left out when written. */
#define KS_NOT_TOLD NAN
#define KS_NO_MONEY INT64_C(-1)

enum {
    KS_MOST_VERTICES = 256,
    KS_MOST_PIECES = 5000,
    KS_MOST_SHELVES = 200,
    KS_MOST_LEVELS = 64,
    KS_MOST_PARTS = 96
};
#define KS_LONGEST_MM 20000.0 /* no studio kiln is longer; catches a wrong unit */

/* A heading of the studio's own tables: what it is called there, and which column it is. */
typedef struct {
    const char *heading; /* as ks_text_plain has it */
    int column;          /* of ware_columns.c's, -1 = to be passed over */
} ks_own_column;

typedef struct {
    ks_field_reader fields; /* units, arena, err */
    ks_order *order;        /* NULL while a kiln is read by itself */
    const char *folder;     /* of the file being read */
    const char *kiln_folder;
    const ks_kiln
        *kiln; /* whose bays or load are being read: references within it are looked up there */
    int warnings_room, read_room, tables_room;
    int n_columns, columns_room;
    ks_own_column *columns;
    const ks_json *families;     /* the order's own, checked; NULL = none */
    int told_glazes, told_clays; /* those that the order itself describes; behind them stand those
                                    that only a table names */
    int glazes_room, clays_room;
} ks_reading;

/* Notes something understood, but worth a look, with its place; kept in reading->order. */
void ks_warn(ks_reading *reading, const ks_json *node, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Notes the path of a file that was read; kept in reading->order. */
void ks_note_read(ks_reading *reading, const char *path);

/* A list of things whose structs begin with their id, for references to them. */
typedef struct {
    const char *noun; /* "clay" */
    const void *first;
    size_t size;
    int n;
} ks_id_list;
#define KS_ID_LIST(noun, array, count) ((ks_id_list){(noun), (array), sizeof *(array), (count)})

int ks_id_place(const ks_id_list *list, const char *id); /* -1 = not there */

/* The same, and where it is not there, the only one that is it but for letter case and the like. */
int ks_id_place_alike(const ks_id_list *list, const char *id);

/* The same for a text node; -1 after noting that there is none such, with the nearest. An empty
 * list in a file that already failed is passed over: its own slip has been told. */
int ks_id_refer(const ks_json *node, const ks_id_list *list, ks_error *err);

/* The same where the id is the node's key. */
int ks_id_refer_key(const ks_json *node, const ks_id_list *list, ks_error *err);

/* Refuses a text that is none of the words "a|b" (NULL or empty ones pass). */
void ks_word_check(const ks_json *object, const char *key, const char *words, ks_error *err);

/* Elements of an array (NULL = none), each zeroed and then filled by `read`, which notes its own
 * slips. */
typedef void (*ks_element_reader)(ks_reading *reading, const ks_json *node, void *into);
void *ks_list_read(ks_reading *reading, const ks_json *node, int most, size_t size,
                   ks_element_reader read, int *n);

/* The same for things with ids; ids given twice are refused. */
void *ks_named_list_read(ks_reading *reading, const ks_json *node, const char *noun, int most,
                         size_t size, ks_element_reader read, int *n);

/* Refuses an id given twice; nodes[i] is where element i stands. */
void ks_ids_unique(const ks_id_list *list, const ks_json *const *nodes, ks_reading *reading);

/* "cone": "6", or the number 6; NULL after noting what it is instead, also for a NULL node. */
const char *ks_cone_read(const ks_json *node, ks_error *err);

/* `["04", "6"]`, or one cone for both; both untouched where node is NULL. */
void ks_cones_read(const ks_json *node, const char **low, const char **high, ks_error *err);

/* Any outline of the file formats, its vertices counter-clockwise and on the plan's grid. Curves
 * go `around` the true one, or within it. False after noting what is wrong; *out is then a small
 * disc. */
bool ks_outline_read(const ks_json *node, bool around, const ks_field_reader *reader,
                     ks_outline *out);

/* `[x, y]`, lengths. */
bool ks_point_read(const ks_json *node, const ks_field_reader *reader, ks_point *out);

/* One length in mm, 0 where the node is NULL or wrong. */
double ks_length_read(const ks_json *node, double least, double most,
                      const ks_field_reader *reader);

double ks_gridded(double mm); /* to the plan's grid */

/* Adds a word to the list of values that are our assumptions: "mass, wall". */
void ks_default_note(const char **list, const char *what, ks_arena *arena);

/* The list in the language in use. */
const char *ks_default_words(const char *list, ks_arena *arena);

/* Where the value was not told it becomes the usual one, and that is noted; whether it did. */
bool ks_default_take(double *value, double usual, const char **list, const char *what,
                     ks_arena *arena);

#endif
