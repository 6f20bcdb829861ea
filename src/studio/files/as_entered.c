#include "studio/files/piece_file.h"

#include "base/text.h"

/* The lengths that people measure; lists are told by how many points they have. */
static const char *const sizes[] = {"diameter", "width", "depth", "height", "corner", "foot"};
static const char *const lists[] = {"profile", "widths", "outline", "parts"};

static void tell_size(ks_text *text, const ks_json *node, const char *unit)
{
    if (!node || (node->kind != KS_JSON_TEXT && node->kind != KS_JSON_NUMBER))
        return;
    ks_text_add(text, text->length > 0 ? ", " : "");
    ks_text_add(text, ks_joined(node->key, " ", node->text, text->arena));
    double number;
    if (unit && ks_number_parse(node->text, &number) == NULL)
        ks_text_add(text, ks_joined(" ", unit, "", text->arena));
}

static void tell_list(ks_text *text, const char *name, int n)
{
    ks_text_add(text, text->length > 0 ? ", " : "");
    ks_text_add(text, ks_joined(name, " of ", "", text->arena));
    ks_text_add_number(text, n);
}

const char *ks_piece_as_entered(const ks_json *node, const ks_units *units, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    tell_size(&text, ks_json_get(node, "shape"), NULL);
    tell_size(&text, ks_json_get(node, "size"), NULL);
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++)
        tell_size(&text, ks_json_get(node, sizes[i]), units->length);
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        const ks_json *list = ks_json_get(node, lists[i]);
        if (list && list->kind == KS_JSON_ARRAY)
            tell_list(&text, lists[i], list->n);
    }
    return ks_text_end(&text);
}
