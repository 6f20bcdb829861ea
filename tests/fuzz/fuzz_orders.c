/* fuzz_orders.c: orders of any bytes are read or refused at a place. */
#include "target.h"

#include "kilnstow/order.h"

#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    char path[40];
    int fd = file_of(bytes, length, path);
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    require_words(ks_order_read(path, "tests/bad/good", &arena, &order, &err), &err);
    close(fd);
    ks_arena_finish(&arena);
    return 0;
}
