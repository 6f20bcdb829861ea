/* verdicts.c: for each text on standard input (its length in four bytes, then its bytes) prints, on
 * one line, what our reader made of it: null, or a value. What oracles.py compares with Python.
 * usage: verdicts json|csv|composed */
#include "base/data/csv.h"
#include "base/fold.h"
#include "base/data/json.h"
#include "base/data/json_out.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void put_row(ks_json_out *out, const ks_csv_row *row)
{
    ks_out_array(out, NULL);
    for (int i = 0; i < row->n; i++)
        ks_out_text(out, NULL, row->cells[i].text);
    ks_out_end(out);
}

static void tell_table(const char *bytes, size_t length, ks_json_out *out)
{
    ks_csv table;
    if (ks_csv_parse("t", bytes, length, out->text.arena, &table, NULL) != KS_OK) {
        ks_out_null(out, NULL);
        return;
    }
    ks_out_array_flat(out, NULL);
    put_row(out, &table.header);
    for (int i = 0; i < table.n_rows; i++)
        put_row(out, &table.rows[i]);
    ks_out_end(out);
}

static void tell_json(const char *bytes, size_t length, ks_json_out *out)
{
    const ks_json *top;
    if (ks_json_parse("t", bytes, length, out->text.arena, &top, NULL) != KS_OK)
        ks_out_null(out, NULL);
    else
        ks_out_bool(out, NULL, true);
}

int main(int argc, char **argv)
{
    unsigned char size[4];
    while (argc == 2 && fread(size, 1, 4, stdin) == 4) {
        size_t length = size[0] | (size_t)size[1] << 8 | (size_t)size[2] << 16;
        ks_arena arena = {0};
        ks_json_out out = {.text.arena = &arena};
        char *bytes = ks_arena_take(&arena, length + 1, 1);
        if (fread(bytes, 1, length, stdin) != length)
            return 1;
        if (strcmp(argv[1], "json") == 0)
            tell_json(bytes, length, &out);
        else if (strcmp(argv[1], "composed") == 0)
            ks_out_text(&out, NULL, ks_text_compose(bytes, &arena));
        else
            tell_table(bytes, length, &out);
        fputs(ks_out_done(&out), stdout);
        ks_arena_finish(&arena);
    }
    return argc == 2 ? 0 : 2;
}
