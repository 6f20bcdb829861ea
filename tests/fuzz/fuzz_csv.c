/* fuzz_csv.c: tables of any bytes are read or refused at a line. */
#include "base/data/csv.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    ks_arena arena = {0};
    ks_error err = {0};
    ks_csv table;
    ks_status status = ks_csv_parse("w.csv", (const char *)bytes, length, &arena, &table, &err);
    if (status != KS_OK && strncmp(err.text, "w.csv:", 6) != 0)
        abort();
    for (int i = 0; status == KS_OK && i < table.n_rows; i++)
        for (int j = 0; j < table.rows[i].n; j++)
            if (strlen(table.rows[i].cells[j].text) > KS_CSV_LONGEST || table.rows[i].line < 2)
                abort();
    ks_arena_finish(&arena);
    return 0;
}
