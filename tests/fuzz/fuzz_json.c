/* fuzz_json.c: JSON of any bytes is read or refused at a place; what was read is written and read
 * again as the same tree. */
#include "base/data/json.h"
#include "base/data/json_out.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

static void require(bool holds)
{
    if (!holds)
        abort();
}

static void write_node(ks_json_out *out, const char *key, const ks_json *node)
{
    switch (node->kind) {
    case KS_JSON_NULL:
        ks_out_null(out, key);
        return;
    case KS_JSON_BOOL:
        ks_out_bool(out, key, node->truth);
        return;
    case KS_JSON_NUMBER:
        ks_out_number(out, key, node->number);
        return;
    case KS_JSON_TEXT:
        ks_out_text(out, key, node->text);
        return;
    case KS_JSON_ARRAY:
        ks_out_array(out, key);
        break;
    case KS_JSON_OBJECT:
        ks_out_object(out, key);
        break;
    }
    for (int i = 0; i < node->n; i++)
        write_node(out, node->items[i].key, &node->items[i]);
    ks_out_end(out);
}

static void require_same(const ks_json *a, const ks_json *b)
{
    require(a->kind == b->kind && a->n == b->n && a->truth == b->truth);
    require(!a->key == !b->key && (!a->key || strcmp(a->key, b->key) == 0));
    require(a->kind != KS_JSON_NUMBER || a->number == b->number);
    require(a->kind != KS_JSON_TEXT || strcmp(a->text, b->text) == 0);
    for (int i = 0; i < a->n; i++)
        require_same(&a->items[i], &b->items[i]);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    ks_arena arena = {0};
    ks_error err = {0};
    const ks_json *top, *again;
    ks_status status = ks_json_parse("f.json", (const char *)bytes, length, &arena, &top, &err);
    if (status == KS_OK) {
        ks_json_out out = {.text.arena = &arena};
        write_node(&out, NULL, top);
        const char *text = ks_out_done(&out);
        require(ks_json_parse("again", text, strlen(text), &arena, &again, &err) == KS_OK);
        require_same(top, again);
    } else {
        require(status == KS_BAD_INPUT && strncmp(err.text, "f.json:", 7) == 0);
    }
    ks_arena_finish(&arena);
    return 0;
}
