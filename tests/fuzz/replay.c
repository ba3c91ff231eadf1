/* Runs a fuzz target over the files named, or all files of the folders named: any compiler, no fuzzer. */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static int run_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) return 0;
    static uint8_t bytes[1 << 20];
    const size_t size = fread(bytes, 1, sizeof bytes, file);
    const int bad = ferror(file);
    (void)fclose(file);
    if (bad) return 0; /* a folder */
    /* An allocation of the exact size, so that reading past the end is seen. */
    uint8_t *exact = malloc(size > 0 ? size : 1);
    if (exact == NULL) return 0;
    for (size_t i = 0; i < size; i++) exact[i] = bytes[i];
    (void)LLVMFuzzerTestOneInput(exact, size);
    free(exact);
    return 1;
}

int main(int argc, char **argv)
{
    int count = 0;
    for (int i = 1; i < argc; i++) {
        DIR *folder = opendir(argv[i]);
        if (folder == NULL) {
            count += run_file(argv[i]);
            continue;
        }
        for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
            if (entry->d_name[0] == '.') continue;
            char path[4096];
            (void)snprintf(path, sizeof path, "%s/%s", argv[i], entry->d_name);
            count += run_file(path);
        }
        (void)closedir(folder);
    }
    printf("%d inputs\n", count);
    return count > 0 ? 0 : 1;
}
