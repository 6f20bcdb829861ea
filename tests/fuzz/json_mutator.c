/* json_mutator.c: changes a JSON file as someone might who edits it: values, keys, items, not
 * single bytes. What is no JSON, and a quarter of all changes, goes to the fuzzer's own way with
 * bytes. */
#include <cjson/cJSON.h>

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

size_t LLVMFuzzerCustomMutator(uint8_t *bytes, size_t length, size_t most, unsigned seed);
size_t LLVMFuzzerMutate(uint8_t *bytes, size_t length, size_t most);

static unsigned drawn(unsigned *seed, unsigned below)
{
    *seed = *seed * 1103515245u + 12345u;
    return (*seed >> 8) % below;
}

static int nodes_of(const cJSON *node)
{
    int n = 1;
    for (const cJSON *child = node->child; child; child = child->next)
        n += nodes_of(child);
    return n;
}

/* The node of that number, from the top; counted down in *at. */
static cJSON *node_at(cJSON *node, int *at)
{
    if ((*at)-- == 0)
        return node;
    for (cJSON *child = node->child; child; child = child->next) {
        cJSON *found = node_at(child, at);
        if (found)
            return found;
    }
    return NULL;
}

static cJSON *any_node(cJSON *top, unsigned *seed)
{
    int at = (int)drawn(seed, (unsigned)nodes_of(top));
    return node_at(top, &at);
}

/* A value where limits lie, or that is of another kind. */
static cJSON *other_value(unsigned *seed)
{
    static const double numbers[] = {
        0,   -1,   1,    2,   3,   0.001,      -0.001,        1e-9, 90,   360,
        500, 5000, 5001, 1e6, 1e9, 2147483647, -2147483648.0, 1e15, 1e300};
    static const char *const texts[] = {"",      "6",          "any",      "10 1/2 in",
                                        "-3 mm", "1e9 mm",     "0/0 in",   "a\nb",
                                        "1:00",  "2026-02-30", "\xc3\xa9", "round-450"};
    switch (drawn(seed, 6)) {
    case 0:
        return cJSON_CreateString(texts[drawn(seed, sizeof texts / sizeof *texts)]);
    case 1:
        return cJSON_CreateBool((int)drawn(seed, 2));
    case 2:
        return drawn(seed, 2) ? cJSON_CreateArray() : cJSON_CreateObject();
    default:
        return cJSON_CreateNumber(numbers[drawn(seed, sizeof numbers / sizeof *numbers)]);
    }
}

/* In place of one of the children of `parent`: the new value, or with none nothing. */
static void put(cJSON *parent, cJSON *old, cJSON *value)
{
    if (value)
        cJSON_ReplaceItemViaPointer(parent, old, value);
    else
        cJSON_Delete(cJSON_DetachItemViaPointer(parent, old));
}

static void change(cJSON *top, unsigned *seed)
{
    cJSON *parent = any_node(top, seed);
    int n = parent ? cJSON_GetArraySize(parent) : 0;
    if (n == 0)
        return;
    cJSON *child = cJSON_GetArrayItem(parent, (int)drawn(seed, (unsigned)n)),
          *from = any_node(top, seed);
    switch (drawn(seed, 5)) {
    case 0:
        put(parent, child, NULL);
        return;
    case 1:
        put(parent, child, other_value(seed));
        return;
    case 2:
        if (from)
            put(parent, child, cJSON_Duplicate(from, 1));
        return;
    case 3:
        if (cJSON_IsArray(parent))
            cJSON_AddItemToArray(parent, cJSON_Duplicate(child, 1));
        return;
    default:
        if (cJSON_IsNumber(child))
            cJSON_SetNumberValue(child, child->valuedouble * (drawn(seed, 2) ? -1 : 1) +
                                            (double)drawn(seed, 7) - 3);
        return;
    }
}

size_t LLVMFuzzerCustomMutator(uint8_t *bytes, size_t length, size_t most, unsigned seed)
{
    cJSON *top = drawn(&seed, 4) ? cJSON_ParseWithLength((const char *)bytes, length) : NULL;
    for (unsigned i = 1 + drawn(&seed, 3); top && i > 0; i--)
        change(top, &seed);
    char *text = top ? cJSON_PrintUnformatted(top) : NULL;
    size_t made = text ? strlen(text) : 0;
    if (made > 0 && made <= most)
        memcpy(bytes, text, made);
    else
        made = LLVMFuzzerMutate(bytes, length, most);
    free(text);
    cJSON_Delete(top);
    return made;
}
