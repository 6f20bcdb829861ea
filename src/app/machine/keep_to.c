#include "app/machine/keep_to.h"

#include "app/machine/where.h"
#include "base/opened.h"

#include <stdlib.h>

void ks_keep_to(const char *folder, const char *trial)
{
    ks_arena arena = {0};
    ks_opened folders[KS_OPENED_MOST];
    int n = 0;
    if (!folder)
        return;
    char *kilns = realpath(ks_where_kilns(&arena), NULL);
    folders[n++] = (ks_opened){folder, !trial};
    if (trial)
        folders[n++] = (ks_opened){trial, true};
    if (kilns)
        folders[n++] = (ks_opened){kilns, false};
    ks_opened_keep_to(n, folders);
    free(kilns);
    ks_arena_finish(&arena);
}

void ks_keep_to_told(void)
{
    ks_keep_to(getenv(KS_VARIABLE_FOLDER), getenv(KS_VARIABLE_TRY));
}
