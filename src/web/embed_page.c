/* embed_page.c: a program of the build: writes the page's files as C arrays and a table of them, so
 * that the program carries its page with it. It says nothing: the build shows the command that
 * failed. */
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

static const char *name_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static bool write_array(const char *path, int number, FILE *out)
{
    FILE *in = fopen(path, "rb");
    if (!in)
        return false;
    fprintf(out, "static const unsigned char file_%d[] = {", number);
    long count = 0;
    for (int c; (c = getc(in)) != EOF; count++)
        fprintf(out, "%s%d,", count % 32 == 0 ? "\n" : "", c);
    fprintf(out, "\n};\n");
    bool good = !ferror(in) && count > 0;
    return fclose(in) == 0 && good;
}

static bool write_all(FILE *out, int n, char **paths)
{
    fprintf(out, "#include \"web/page_file.h\"\n");
    for (int i = 0; i < n; i++)
        if (!write_array(paths[i], i, out))
            return false;
    fprintf(out, "const ks_page_file ks_page_files[] = {\n");
    for (int i = 0; i < n; i++)
        fprintf(out, "{\"%s\", file_%d, sizeof file_%d},\n", name_of(paths[i]), i, i);
    fprintf(out, "};\nconst int ks_n_page_files = %d;\n", n);
    return !ferror(out);
}

int main(int argc, char **argv)
{
    FILE *out = argc > 2 ? fopen(argv[1], "w") : NULL;
    if (!out)
        return 2;
    bool good = write_all(out, argc - 2, argv + 2);
    return fclose(out) == 0 && good ? 0 : 1;
}
