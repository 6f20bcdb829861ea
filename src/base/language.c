#include "base/language.h"

#include "base/language_table.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* This holds for the whole process, as what opened.h keeps to does and nothing else; NULL =
 * English. Nothing that is computed or written into files reads it. */
static const ks_catalogue *in_use;

static const ks_catalogue *catalogue_of(const char *code)
{
    for (int i = 0; i < ks_n_catalogues; i++)
        if (strcmp(code, ks_catalogues[i].code) == 0)
            return &ks_catalogues[i];
    return NULL;
}

bool ks_language_is_known(const char *code)
{
    return strcmp(code, "en") == 0 || catalogue_of(code);
}

bool ks_language_use(const char *code)
{
    if (!ks_language_is_known(code))
        return false;
    in_use = catalogue_of(code);
    return true;
}

const ks_catalogue *ks_language_catalogue(void)
{
    return in_use;
}

const char *ks_language(void)
{
    return in_use ? in_use->code : "en";
}

const char *ks_languages(void)
{
    return ks_catalogue_codes;
}

static int by_message(const void *key, const void *message)
{
    return strcmp(key, ((const ks_said *)message)->message);
}

static const ks_said *find(const char *message)
{
    if (!in_use)
        return NULL;
    return bsearch(message, in_use->messages, (size_t)in_use->n, sizeof *in_use->messages,
                   by_message);
}

const char *ks_tr(const char *message)
{
    const ks_said *found = find(message);
    return found ? found->said[0] : message;
}

const char *ks_tr_count(long n, const char *one, const char *many)
{
    const ks_said *found = find(one);
    unsigned long size = n < 0 ? 0 - (unsigned long)n : (unsigned long)n;
    if (!found)
        return size == 1 ? one : many;
    const char *said = found->said[in_use->form(size)];
    return said ? said : found->said[0];
}
