bayleaf.words("au",{"audible":"1:k","automatic":"3:0","auxiliary":"3:0"});
