bayleaf.words("ye",{"yellow":"1:5,7,h"});
