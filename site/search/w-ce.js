bayleaf.words("ce",{"centre":"0:8;2:c,h"});
