/* book.h: the studio's record: what was fired, what the meter said, what came out, who paid. */
#ifndef KILNSTOW_BOOK_H
#define KILNSTOW_BOOK_H

#include "kilnstow/fire.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* An open record: one SQLite file. Several programs may have it open; who writes waits for the
 * others up to ten seconds. */
typedef struct ks_book ks_book;

typedef enum {
    KS_BOOK_LOOK, /* reads only; the file must be there */
    KS_BOOK_EDIT, /* the file must be there */
    KS_BOOK_MAKE  /* makes it where there is none */
} ks_book_use;

/* KS_SYSTEM when the file is missing or refuses, KS_BAD_INPUT when it is no record, is damaged, or
 * was made by a later version. *out is to be closed by ks_book_close, NULL on failure. */
ks_status ks_book_open(const char *path, ks_book_use use, ks_book **out, ks_error *err);
void ks_book_close(ks_book *book); /* NULL does nothing */

/* The first member of whatever the record holds. Nothing is ever rewritten: mending writes the next
 * edition of the same entry, and the last one counts. */
typedef struct {
    int n;               /* the entry, from 1; 0 = to be added */
    int edition;         /* from 1 */
    const char *written; /* when this edition was, UTC: "2026-11-28T18:20:00Z" */
} ks_book_mark;

typedef struct {
    const char *level; /* its name: "3", "3 left" */
    const char *side;  /* "front", "back", "left", "right", "middle"; "" = not told */
    const char *cone;  /* as ks_cone_print tells it: "6", "5.5+0.4" */
    double height;     /* where that level begins, as a part of the chamber's; NAN = not kept */
} ks_cone_seen;

typedef struct {
    const char *piece; /* id in the plan's order */
    int copies;
    const char *why;
    const char *third; /* of the chamber where it stood, as in ks_ware_fired; "" = not told */
} ks_loss;

/* Where what was in the kiln differs from the plan: more copies of a kind, or fewer. */
typedef struct {
    const char *piece; /* id in the plan's order */
    const char *level; /* its name; "" = not told */
    int copies;        /* > 0 went in besides, < 0 did not go in */
} ks_correction;

/* Copies of a kind of ware that were in a load, in one third of its height. */
typedef struct {
    const char *piece, *owner, *glaze; /* "" = none; several glazes as "a + b" */
    const char *third;                 /* "bottom", "middle", "top" */
    int copies;
} ks_ware_fired;

typedef struct {
    const char *file; /* of a photograph, as named */
} ks_photo;

typedef struct {
    const char *curve; /* name of the thermocouple */
    double time_h, temp_c;
} ks_logged_reading;

/* What a member owes for this firing; "" is the studio. */
typedef struct {
    const char *member, *name;
    int pieces;
    int64_t minor;
} ks_charge;

/* Ware of the plan that did not go into any of its loads. */
typedef struct {
    const char *member, *piece, *name, *why;
    int copies;
} ks_waited;

typedef struct {
    ks_book_mark mark;
    const char *plan; /* its hash; the plan itself stands in the record once */
    int load;         /* from 1, in the plan */
    const char *kiln, *title;
    const char *started, *ended; /* studio's clock, "2026-11-28 18:00"; ended may be "" */
    double kwh;                  /* NAN = no meter told */
    double meter_from, meter_to; /* as read, NAN = not told */
    const char *meter_unit;      /* "kWh" or "m3" */
    double minutes;              /* worked on it, NAN = not told */
    const char *currency;        /* ISO 4217, "" where nothing was billed */
    int digits;                  /* of its minor unit */
    int64_t bill_minor;          /* of this firing by its meter */
    const char *note;
    const char *struck; /* why the entry counts no more, "" = it does */
    int n_cones, n_losses, n_again, n_photos, n_readings, n_charges, n_waited, n_ware,
        n_corrections;
    ks_cone_seen *cones;
    ks_loss *losses;
    ks_loss *again; /* to be fired again, and why */
    ks_photo *photos;
    ks_logged_reading *readings;
    ks_charge *charges;
    ks_waited *waited;
    ks_ware_fired *ware; /* none in entries of the record's first version */
    ks_correction *corrections;
} ks_book_firing;

typedef struct {
    ks_book_mark mark;
    const char *day;    /* "2026-11-28" */
    const char *member; /* id, or the name given */
    const char *currency;
    int digits;
    int64_t minor; /* negative: paid back */
    const char *note;
    const char *struck; /* why it counts no more, "" = it does */
} ks_book_payment;

/* What happened to a kiln's furniture and parts beside firings. */
typedef struct {
    ks_book_mark mark;
    const char *day;  /* "2026-11-28" */
    const char *kiln; /* id */
    const char *item; /* a shelf's or post's id, "elements", "thermocouple", "wash" */
    const char *done; /* "broken", "bought", "renewed" */
    int copies;       /* of a shelf or post; 0 of what has none */
    const char *note;
    const char *struck; /* why it counts no more, "" = it does */
} ks_book_upkeep;

/* What became of ware that had come out of the kiln. */
typedef struct {
    ks_book_mark mark;
    const char *day;
    const char *piece, *member; /* as fired; member "" is the studio */
    int copies;
    const char *became; /* "sold", "commission", "second", "back", "lost" */
    const char *currency;
    int digits;
    int64_t minor; /* that was paid for all of them; 0 = not told */
    const char *note;
    const char *struck;
} ks_book_fate;

/* Lists of an entry, of which only those that are asked for are read; the others are left empty. */
enum {
    KS_LIST_CONES = 1,
    KS_LIST_LOSSES = 2,
    KS_LIST_PHOTOS = 4,
    KS_LIST_READINGS = 8, /* of a recorder: many */
    KS_LIST_CHARGES = 16,
    KS_LIST_WAITED = 32,
    KS_LIST_WARE = 64,
    KS_LIST_AGAIN = 128,
    KS_LIST_CORRECTIONS = 256,
    KS_LISTS_ALL = 511,
    KS_LISTS_SHORT = KS_LISTS_ALL - KS_LIST_READINGS
};

/* What is asked for; NULL = all. Times compare as text: "2026-11" is before "2026-11-28 18:00". */
typedef struct {
    const char *kiln, *member, *plan;
    const char *from, *to; /* from this day on, and up to the end of that one */
    const char *written;   /* editions written then */
    int n, load, edition;  /* this entry; this load; this edition; 0 = all */
    bool editions;         /* all of each entry, in order of number, not the last alone */
    bool struck;           /* those that count no more as well */
    int lists;             /* KS_LIST_..., added up */
} ks_book_asked;

/* Adds the entry (mark.n 0), or writes its next edition; fills in n and edition. `written` must be
 * told. `plan_text` is the plan the entry tells of, NULL where the record has it. All of it or
 * nothing is written, and it is on disk when this returns KS_OK. */
ks_status ks_book_write_firing(ks_book *book, ks_book_firing *firing, const char *plan_text,
                               ks_error *err);
ks_status ks_book_write_payment(ks_book *book, ks_book_payment *payment, ks_error *err);
ks_status ks_book_write_upkeep(ks_book *book, ks_book_upkeep *upkeep, ks_error *err);
ks_status ks_book_write_fate(ks_book *book, ks_book_fate *fate, ks_error *err);

/* What was asked for: firings by their start, payments by their day; in `arena`. */
ks_status ks_book_firings(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                          ks_book_firing **out, ks_error *err);
ks_status ks_book_payments(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                           ks_book_payment **out, ks_error *err);

/* What happened to furniture and parts, by its day. */
ks_status ks_book_upkeeps(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                          ks_book_upkeep **out, ks_error *err);
/* The same of ware that had come out. */
ks_status ks_book_fates(ks_book *book, const ks_book_asked *asked, ks_arena *arena, int *n,
                        ks_book_fate **out, ks_error *err);

/* Of the last firing that was billed; *currency is "" where none was. */
ks_status ks_book_currency(ks_book *book, ks_arena *arena, const char **currency, int *digits,
                           ks_error *err);

/* Whether someone of this id or name was ever charged or has paid. */
ks_status ks_book_knows(ks_book *book, const char *member, bool *known, ks_error *err);

/* The text of a plan of the record; KS_BAD_INPUT where it has none of that hash. */
ks_status ks_book_plan(ks_book *book, const char *hash, ks_arena *arena, const char **text,
                       ks_error *err);

/* The same, read. */
ks_status ks_book_plan_read(ks_book *book, const char *hash, ks_arena *arena, ks_plan **out,
                            ks_error *err);

/* All of it, every edition and plan, as JSON ("kilnstow-book/1"), and back into a record: what it
 * has already is passed over, so that importing twice changes nothing. An entry is known again by
 * what its first edition tells; where its number is taken by another it gets the next free one.
 * *added counts editions written. */
ks_status ks_book_export(ks_book *book, ks_arena *arena, const char **json, ks_error *err);
ks_status ks_book_import(ks_book *book, const char *path, ks_arena *arena, int *added,
                         ks_error *err);

/* A file that goes along with a copy. */
typedef struct {
    const char *name;  /* below the record's folder, with "/" between */
    int64_t changed_s; /* since 1970, UTC */
    size_t length;
    const char *bytes;
} ks_book_along;

/* A whole copy as of this moment, also while others write, with these files instead of those that
 * the record brought along itself; `path` must be free. */
ks_status ks_book_copy(ks_book *book, const char *path, int n, const ks_book_along *files,
                       ks_error *err);

/* The files that a copy brought along, by name; none in a record that is no copy. Names are as they
 * stand there: whoever writes them looks at them first. */
ks_status ks_book_files(ks_book *book, ks_arena *arena, int *n, ks_book_along **files,
                        ks_error *err);

/* Whether the file is whole. Where it is not, what can still be read is saved to `saved_to` (which
 * must be free), and `says` tells what is wrong; "" = it is sound. */
typedef struct {
    const char *says;
    int firings, payments; /* editions read */
    int lost;              /* rows that could not be read */
    const char *saved_to;  /* NULL = nothing was */
} ks_book_health;
/* KS_OK also for a damaged file; KS_SYSTEM where there is none, or nothing can be saved. */
ks_status ks_book_sound(const char *path, const char *saved_to, ks_arena *arena,
                        ks_book_health *out, ks_error *err);

#ifdef __cplusplus
}
#endif

#endif
