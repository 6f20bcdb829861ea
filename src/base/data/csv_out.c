#include "base/data/csv_out.h"

#include <string.h>

static void open_cell(ks_csv_out *out)
{
    if (out->begun)
        ks_text_add_n(&out->text, &out->separator, 1);
    out->begun = true;
}

void ks_csv_quoted(ks_csv_out *out, const char *cell)
{
    open_cell(out);
    ks_text_add(&out->text, "\"");
    if (*cell && strchr("=+-@\t\r", *cell))
        ks_text_add(&out->text, "'");
    for (; *cell; cell++) {
        if (*cell == '"')
            ks_text_add(&out->text, "\"");
        ks_text_add_n(&out->text, cell, 1);
    }
    ks_text_add(&out->text, "\"");
}

void ks_csv_plain(ks_csv_out *out, const char *cell)
{
    open_cell(out);
    for (; *cell; cell++)
        ks_text_add_n(&out->text, *cell == '.' ? &out->decimal : cell, 1);
}

void ks_csv_heads(ks_csv_out *out, const char *const *headings)
{
    for (; *headings; headings++)
        ks_csv_plain(out, *headings);
}

void ks_csv_end_row(ks_csv_out *out)
{
    ks_text_add(&out->text, "\r\n");
    out->begun = false;
}
