bayleaf.words("ai",{"air":"0:e;3:e,n","airbag":"1:5,g"});
