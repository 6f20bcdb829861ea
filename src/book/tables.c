#include "book/tables.h"

#define TEXT(type, member)                                                                         \
    {                                                                                              \
#member, KS_COLUMN_TEXT, offsetof(type, member), false                                     \
    }
#define NUMBER(type, member)                                                                       \
    {                                                                                              \
#member, KS_COLUMN_NUMBER, offsetof(type, member), false                                   \
    }
#define WHOLE(type, member)                                                                        \
    {                                                                                              \
#member, KS_COLUMN_WHOLE, offsetof(type, member), false                                    \
    }
#define MONEY(type, member)                                                                        \
    {                                                                                              \
#member, KS_COLUMN_MONEY, offsetof(type, member), false                                    \
    }
#define LATER_TEXT(type, member)                                                                   \
    {                                                                                              \
#member, KS_COLUMN_TEXT, offsetof(type, member), true                                      \
    }
#define LATER_NUMBER(type, member)                                                                 \
    {                                                                                              \
#member, KS_COLUMN_NUMBER, offsetof(type, member), true                                    \
    }
#define COLUMNS(of) (int)(sizeof(of) / sizeof *(of)), of

static const ks_book_column cone_columns[] = {
    TEXT(ks_cone_seen, level),
    TEXT(ks_cone_seen, side),
    TEXT(ks_cone_seen, cone),
    LATER_NUMBER(ks_cone_seen, height),
};

static const ks_book_column loss_columns[] = {
    TEXT(ks_loss, piece),
    WHOLE(ks_loss, copies),
    TEXT(ks_loss, why),
    LATER_TEXT(ks_loss, third),
};

static const ks_book_column photo_columns[] = {TEXT(ks_photo, file)};

static const ks_book_column reading_columns[] = {
    TEXT(ks_logged_reading, curve),
    NUMBER(ks_logged_reading, time_h),
    NUMBER(ks_logged_reading, temp_c),
};

static const ks_book_column charge_columns[] = {
    TEXT(ks_charge, member),
    TEXT(ks_charge, name),
    WHOLE(ks_charge, pieces),
    MONEY(ks_charge, minor),
};

static const ks_book_column waited_columns[] = {
    TEXT(ks_waited, member), TEXT(ks_waited, piece),   TEXT(ks_waited, name),
    TEXT(ks_waited, why),    WHOLE(ks_waited, copies),
};

static const ks_book_column ware_columns[] = {
    TEXT(ks_ware_fired, piece), TEXT(ks_ware_fired, owner),   TEXT(ks_ware_fired, glaze),
    TEXT(ks_ware_fired, third), WHOLE(ks_ware_fired, copies),
};

static const ks_book_column correction_columns[] = {
    TEXT(ks_correction, piece),
    TEXT(ks_correction, level),
    WHOLE(ks_correction, copies),
};

#define LIST(table, type, columns, n, items, asked_by)                                             \
    {                                                                                              \
        table, sizeof(type), COLUMNS(columns), offsetof(ks_book_firing, n),                        \
            offsetof(ks_book_firing, items), asked_by, false                                       \
    }
#define LATER_LIST(table, type, columns, n, items, asked_by)                                       \
    {                                                                                              \
        table, sizeof(type), COLUMNS(columns), offsetof(ks_book_firing, n),                        \
            offsetof(ks_book_firing, items), asked_by, true                                        \
    }
static const ks_book_list firing_lists[] = {
    LIST("cone", ks_cone_seen, cone_columns, n_cones, cones, KS_LIST_CONES),
    LIST("loss", ks_loss, loss_columns, n_losses, losses, KS_LIST_LOSSES),
    LIST("photo", ks_photo, photo_columns, n_photos, photos, KS_LIST_PHOTOS),
    LIST("reading", ks_logged_reading, reading_columns, n_readings, readings, KS_LIST_READINGS),
    LIST("charge", ks_charge, charge_columns, n_charges, charges, KS_LIST_CHARGES),
    LIST("waited", ks_waited, waited_columns, n_waited, waited, KS_LIST_WAITED),
    LATER_LIST("ware", ks_ware_fired, ware_columns, n_ware, ware, KS_LIST_WARE),
    LATER_LIST("again", ks_loss, loss_columns, n_again, again, KS_LIST_AGAIN),
    LATER_LIST("correction", ks_correction, correction_columns, n_corrections, corrections,
               KS_LIST_CORRECTIONS),
};

static const ks_book_column firing_columns[] = {
    TEXT(ks_book_firing, plan),       WHOLE(ks_book_firing, load),
    TEXT(ks_book_firing, kiln),       TEXT(ks_book_firing, title),
    TEXT(ks_book_firing, started),    TEXT(ks_book_firing, ended),
    NUMBER(ks_book_firing, kwh),      NUMBER(ks_book_firing, meter_from),
    NUMBER(ks_book_firing, meter_to), TEXT(ks_book_firing, meter_unit),
    NUMBER(ks_book_firing, minutes),  TEXT(ks_book_firing, currency),
    WHOLE(ks_book_firing, digits),    MONEY(ks_book_firing, bill_minor),
    TEXT(ks_book_firing, note),       TEXT(ks_book_firing, struck),
};

static const ks_book_column payment_columns[] = {
    TEXT(ks_book_payment, day),     TEXT(ks_book_payment, member), TEXT(ks_book_payment, currency),
    WHOLE(ks_book_payment, digits), MONEY(ks_book_payment, minor), TEXT(ks_book_payment, note),
    TEXT(ks_book_payment, struck),
};

static const ks_book_column upkeep_columns[] = {
    TEXT(ks_book_upkeep, day),    TEXT(ks_book_upkeep, kiln),    TEXT(ks_book_upkeep, item),
    TEXT(ks_book_upkeep, done),   WHOLE(ks_book_upkeep, copies), TEXT(ks_book_upkeep, note),
    TEXT(ks_book_upkeep, struck),
};

static const ks_book_column fate_columns[] = {
    TEXT(ks_book_fate, day),     TEXT(ks_book_fate, piece),  TEXT(ks_book_fate, member),
    WHOLE(ks_book_fate, copies), TEXT(ks_book_fate, became), TEXT(ks_book_fate, currency),
    WHOLE(ks_book_fate, digits), MONEY(ks_book_fate, minor), TEXT(ks_book_fate, note),
    TEXT(ks_book_fate, struck),
};

const ks_book_table ks_book_table_firing = {
    "firing",
    sizeof(ks_book_firing),
    COLUMNS(firing_columns),
    (int)(sizeof firing_lists / sizeof *firing_lists),
    firing_lists,
    "started",
    false,
};

const ks_book_table ks_book_table_payment = {
    "payment", sizeof(ks_book_payment), COLUMNS(payment_columns), 0, NULL, "day", false,
};

const ks_book_table ks_book_table_upkeep = {
    "upkeep", sizeof(ks_book_upkeep), COLUMNS(upkeep_columns), 0, NULL, "day", true,
};

const ks_book_table ks_book_table_fate = {
    "fate", sizeof(ks_book_fate), COLUMNS(fate_columns), 0, NULL, "day", true,
};

const ks_book_table *const ks_book_tables[KS_BOOK_TABLES] = {
    &ks_book_table_firing,
    &ks_book_table_payment,
    &ks_book_table_upkeep,
    &ks_book_table_fate,
};
