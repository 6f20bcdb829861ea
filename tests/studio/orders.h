/* orders.h: reads orders and spreadsheets that stand in a test as text. */
#ifndef KILNSTOW_TESTS_STUDIO_ORDERS_H
#define KILNSTOW_TESTS_STUDIO_ORDERS_H

#include "check.h"
#include "kilnstow/plan.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A folder of this test's own, gone when the test ends it. */
typedef struct {
    char path[64];
    int n_files;
    char files[8][128];
} workplace;

static inline workplace workplace_made(void)
{
    workplace made = {.path = "/tmp/studio-test-XXXXXX"};
    assert_non_null(mkdtemp(made.path));
    return made;
}

/* Writes a file into it, and returns its path. */
static inline const char *file_put(workplace *place, const char *name, const char *text)
{
    assert_true(place->n_files < 8);
    char *path = place->files[place->n_files++];
    assert_true(strlen(place->path) + strlen(name) + 2 < sizeof place->files[0]);
    strcpy(path, place->path);
    strcat(strcat(path, "/"), name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, strlen(text), file), strlen(text));
    assert_int_equal(fclose(file), 0);
    return path;
}

static inline void workplace_left(workplace *place)
{
    for (int i = 0; i < place->n_files; i++)
        (void)unlink(place->files[i]);
    (void)rmdir(place->path);
}

/* An order whose ware, and what comes before it, is `rest`: members of a JSON object. */
#define ORDER_START                                                                                \
    "{\"format\": \"kilnstow-order/1\", \"units\": {\"length\": \"mm\", \"mass\": \"kg\", "        \
    "\"temperature\": \"C\"}, \"kilns\": [\"round-580\"], \"firings\": [{\"id\": \"glaze\", "      \
    "\"cone\": \"6\"}],\n"

#define SOME_WARE ", \"ware\": [{\"id\": \"some\", \"diameter\": 80, \"height\": 90}]"

static inline ks_status order_from(const char *rest, ks_arena *arena, ks_order **order,
                                   ks_error *err)
{
    workplace place = workplace_made();
    bool has_ware = strstr(rest, "\"ware\"") || strstr(rest, "\"ware_files\"");
    char *text = ks_arena_print(arena, ORDER_START "%s%s}", rest, has_ware ? "" : SOME_WARE);
    ks_status status =
        ks_order_read(file_put(&place, "order.json", text), "kilns", arena, order, err);
    workplace_left(&place);
    return status;
}

/* The same for what must be readable: its first piece. */
static inline const ks_piece *piece_from(const char *piece, ks_arena *arena, ks_order **order)
{
    ks_error err = {0};
    ks_status status = order_from(
        ks_arena_print(arena,
                       "\"clays\": [{\"id\": \"buff\", \"bar\": {\"wet\": 100, \"dry\": 94, "
                       "\"bisque\": 93.5, \"cone 6\": 88}}],\n\"ware\": [%s]",
                       piece),
        arena, order, &err);
    if (status != KS_OK)
        print_error("%s\n", err.text);
    assert_int_equal(status, KS_OK);
    return &(*order)->pieces[0];
}

#endif
