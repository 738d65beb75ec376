// Compiled twice as a file of the room belief, with and without the line that its row forbids.
#include "base/ids.h"
#include "belief/network.h"
#ifdef WITH_THE_BAD_LINE
#include "chain/chain.h"
#endif

int main() {
  return 0;
}
