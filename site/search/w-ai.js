bayleaf.words("ai",{"air":"0:e;3:d,e,o","airbag":"1:5,h"});
