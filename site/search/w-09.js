bayleaf.words("09",{"09":"2:0"});
