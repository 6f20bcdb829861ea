#include "studio/shelf_material.h"

#include <stddef.h>
#include <string.h>

const ks_shelf_material *ks_shelf_material_find(const char *name)
{
    static const ks_shelf_material known[] = {KS_SHELF_MATERIALS};
    for (size_t i = 0; name && i < sizeof known / sizeof *known; i++)
        if (strcmp(name, known[i].name) == 0)
            return &known[i];
    return NULL;
}
